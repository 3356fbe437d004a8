"""Weighing a finished square."""

from decimal import Decimal

import pytest

from accounts.models import Member
from drives.actions.squares.weights import weigh_square
from drives.models import Square
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, nothing_changes, refused


@pytest.fixture
def finished(cast: Cast, plan: Plan) -> Desk:
    """Vera finished A1; B1 is in her hands."""
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    return desk


def put_on_scale(desk: Desk, name: str, grams: str, by: Member) -> Square:
    return weigh_square(square=desk.square(name), by=by, grams=Decimal(grams), now=NOW + DAY)


@pytest.mark.parametrize("by", ["vera", "cora", "olga"])
def test_its_knitter_or_a_coordinator_notes_what_it_weighs(
    cast: Cast, finished: Desk, by: str
) -> None:
    member = getattr(cast, by)
    put_on_scale(finished, "A1", "8.5", member)
    assert finished.square("A1").grams == Decimal("8.5")
    event = finished.events()[-1]
    assert (event.verb, event.by, event.at) == ("weighed", member, NOW + DAY)
    assert event.facts == {"place": "A1", "member": cast.vera.pk, "grams": "8.5"}


def test_again_with_another_weight_corrects_it(cast: Cast, finished: Desk) -> None:
    put_on_scale(finished, "A1", "85", cast.vera)
    put_on_scale(finished, "A1", "8.5", cast.vera)
    assert finished.square("A1").grams == Decimal("8.5")
    with nothing_changes():
        put_on_scale(finished, "A1", "8.5", cast.vera)


@pytest.mark.parametrize("name", ["B1", "A2", "B2"])
def test_what_is_not_finished_is_not_weighed(cast: Cast, finished: Desk, name: str) -> None:
    text = f"{name} is not finished yet; weigh it and measure it when it is."
    with refused("not-finished", text):
        put_on_scale(finished, name, "8.5", cast.olga)


def test_other_volunteers_do_not_weigh_it(cast: Cast, will: Member, finished: Desk) -> None:
    text = "A1 was knitted by Vera; only they, or a coordinator, can do this."
    with refused("not-yours", text):
        put_on_scale(finished, "A1", "8.5", will)


def test_ripping_back_forgets_the_weight(cast: Cast, finished: Desk) -> None:
    put_on_scale(finished, "A1", "8.5", cast.vera)
    finished.give_back("B1", cast.vera)
    finished.rip_back("A1", cast.cora)
    assert finished.square("A1").grams is None
