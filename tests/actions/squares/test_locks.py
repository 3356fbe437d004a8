"""What waits for what: the first keeps its transaction open, the second comes meanwhile."""

from django.db import transaction

from accounts.models import Member
from drives.actions.drives.blankets import change_layout
from drives.actions.squares import claims
from drives.craft.layout.layout import Layout
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, places
from tests.racing import RACES, Rival, outcome, while_open

pytestmark = RACES


def test_the_second_claim_waits_and_is_told_who_has_it(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    said = while_open(lambda: desk.claim("A1", cast.vera), lambda: desk.claim("A1", will))
    assert said == "already-taken"
    assert desk.verbs() == ["claimed"]


def test_the_second_claim_wins_when_the_first_is_undone(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    with transaction.atomic():
        desk.claim("A1", cast.vera)
        rival = Rival(lambda: desk.claim("A1", will))
        assert rival.is_waiting()
        transaction.set_rollback(True)
    assert rival.result().member == will


def test_claims_of_different_squares_do_not_wait(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with transaction.atomic():
        desk.claim("A2", cast.vera)
        assert Rival(lambda: desk.claim("B1", will)).result().member == will


def test_two_claims_of_one_member_at_the_limit(cast: Cast, plan: Plan) -> None:
    desk = plan(claim_limit=1)
    desk.knit("A1", cast.vera)
    said = while_open(lambda: desk.claim("A2", cast.vera), lambda: desk.claim("B1", cast.vera))
    assert said == "too-many-claims 1"


def test_the_same_claim_twice_at_once_is_one(cast: Cast, plan: Plan) -> None:
    desk = plan()
    with transaction.atomic():
        first = desk.claim("A1", cast.vera)
        rival = Rival(lambda: desk.claim("A1", cast.vera))
        assert rival.is_waiting()
    assert rival.result() == first
    assert desk.verbs() == ["claimed"]


def test_a_claim_while_its_support_is_being_finished_is_not_ready_yet(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with transaction.atomic():
        desk.finish("A1", cast.vera)
        assert outcome(Rival(lambda: desk.claim("B1", will))) == "not-ready A1"
    desk.claim("B1", will)


def test_a_claim_waits_for_its_support_being_ripped_and_is_refused(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: desk.rip_back("A1", cast.cora), lambda: desk.claim("B1", will))
    assert said == "not-ready A1"


def test_a_rip_waits_for_the_claim_on_top_and_is_refused(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: desk.claim("B1", will), lambda: desk.rip_back("A1", cast.cora))
    assert said == "others-stand-on-it B1"


def test_two_supports_finished_at_once_make_their_square_ready(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("A2", cast.vera)
    desk.claim("B1", will)
    with transaction.atomic():
        assert desk.finish("A2", cast.vera).ready == ()
        rival = Rival(lambda: desk.finish("B1", will))
        assert rival.is_waiting()
    assert rival.result().ready == places("B2")
    assert desk.unmet()["B2"] == 0


def test_a_square_finished_twice_at_once_is_finished_once(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    said = while_open(lambda: desk.finish("A1", cast.vera), lambda: desk.finish("A1", cast.cora))
    assert said == "done"
    assert desk.verbs() == ["claimed", "finished"]


def test_finished_while_being_given_back(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    said = while_open(lambda: desk.give_back("A1", cast.vera), lambda: desk.finish("A1", cast.cora))
    assert said == "not-taken"


def test_given_back_while_being_finished(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    said = while_open(lambda: desk.finish("A1", cast.vera), lambda: desk.give_back("A1", cast.cora))
    assert said == "not-taken"


def test_a_lapse_waits_for_the_extension_and_lets_the_claim_be(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    late = NOW + 30 * DAY
    with transaction.atomic():
        desk.extend("A1", cast.cora, days=7, at=late)
        rival = Rival(lambda: claims.lapse_claim(claim=claim, now=late))
        assert rival.is_waiting()
    assert rival.result() is False


def test_only_one_of_two_sweeps_reminds(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    late = NOW + 15 * DAY
    with transaction.atomic():
        assert claims.remind_knitter(claim=claim, now=late)
        rival = Rival(lambda: claims.remind_knitter(claim=claim, now=late))
        assert rival.is_waiting()
    assert rival.result() is False


def change(desk: Desk, cast: Cast, layout: Layout) -> object:
    return change_layout(blanket=desk.blanket, by=cast.olga, layout=layout, now=NOW)


SEAMLESS, SHORTER = Layout(2, 2, 20), Layout(2, 1, 20)


def test_a_claim_waits_for_the_layout_that_takes_its_square_away(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: change(desk, cast, SHORTER), lambda: desk.claim("A2", cast.vera))
    assert said == "not-ready"


def test_a_change_of_layout_waits_for_the_claim_and_is_refused(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: desk.claim("A2", cast.vera), lambda: change(desk, cast, SHORTER))
    assert said == "squares-begun A2"


def test_a_square_that_gets_a_support_while_it_is_claimed(cast: Cast, plan: Plan) -> None:
    desk = plan(missing=frozenset(places("A1")))
    said = while_open(lambda: change(desk, cast, SEAMLESS), lambda: desk.claim("A2", cast.vera))
    assert said == "not-ready A1"
