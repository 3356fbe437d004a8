"""Finishing a square: what becomes ready, who may, and doing it twice."""

import pytest

from accounts.models import Member
from drives.actions.squares import finishing
from drives.craft.places import Place
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, nothing_changes, places, refused


def test_a_finished_square_has_its_date_knitter_and_claim(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera, at=NOW + DAY)
    square = desk.square("A1")
    assert (square.state, square.finished_at, square.knitter) == ("finished", NOW + DAY, cast.vera)
    claim.refresh_from_db()
    assert (claim.ended_at, claim.ending) == (NOW + DAY, "finished")


def test_finishing_tells_what_became_ready(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    assert desk.finish("A1", cast.vera).ready == places("A2 B1")
    desk.claim("B1", cast.vera)
    desk.claim("A2", cast.vera)
    assert desk.finish("B1", cast.vera).ready == ()
    assert desk.finish("A2", cast.vera).ready == places("B2")


def test_unmet_counts_the_unfinished_supports(cast: Cast, plan: Plan) -> None:
    desk = plan()
    assert desk.unmet() == {"A1": 0, "B1": 1, "A2": 1, "B2": 2}
    desk.knit("A1", cast.vera)
    assert desk.unmet() == {"A1": 0, "B1": 0, "A2": 0, "B2": 2}
    desk.knit("A2", cast.vera)
    assert desk.unmet() == {"A1": 0, "B1": 0, "A2": 0, "B2": 1}


def test_finishing_is_one_event_with_the_facts(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.paul, by=cast.cora)
    desk.finish("A1", cast.cora)
    claimed, finished = desk.events()
    assert (claimed.verb, finished.verb, finished.by) == ("claimed", "finished", cast.cora)
    assert finished.facts == {
        "place": "A1",
        "member": cast.paul.pk,
        "ready": ["A2", "B1"],
        "piece": "A1",
        "merged": [],
    }
    assert desk.square("A1").knitter == cast.paul


@pytest.mark.parametrize("again", ["vera", "cora", "olga"])
def test_finishing_again_changes_nothing(cast: Cast, plan: Plan, again: str) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with nothing_changes():
        finished = desk.finish("A1", getattr(cast, again), at=NOW + DAY)
    assert (finished.square, finished.ready) == (desk.square("A1"), ())


def test_somebody_else_is_told_that_it_is_finished(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with refused("already-finished", "A1 is finished already; choose a square that is ready."):
        desk.finish("A1", will)


def test_another_volunteer_cannot_finish_it(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with refused(
        "not-yours", "A1 is in Vera’s hands; only they, or a coordinator for them, can do this."
    ):
        desk.finish("A1", will)


@pytest.mark.parametrize("name", ["A1", "B2"])
def test_what_nobody_claimed_cannot_be_finished(cast: Cast, plan: Plan, name: str) -> None:
    desk = plan()
    with refused("not-taken", f"Nobody has {name} in hand; claim it first."):
        desk.finish(name, cast.olga)


def test_a_square_taken_away_by_a_new_layout_cannot_be_finished(cast: Cast, plan: Plan) -> None:
    square = plan().square("A1")
    square.column, square.row = Place.parse("C3")
    with refused("not-taken", "Nobody has C3 in hand; claim it first."):
        finishing.finish_square(square=square, by=cast.olga, now=NOW)
