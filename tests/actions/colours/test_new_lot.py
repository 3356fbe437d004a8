"""A dye lot that is placed in the plan before it is bought."""

from typing import Any

import pytest

from accounts.models import Event
from drives.actions.colours.new_lot import plan_new_lot
from drives.actions.yarn.reservations import reserve_yarn
from drives.audit.yarns import audit_yarns
from drives.craft.fibre.fibres import Fibre
from drives.craft.yarn.lots import LotWay
from drives.craft.yarn.weighing import Swatch
from drives.models import LotChoice, Reservation, Yarn
from drives.readings.buying import ToBuy, purchase
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, refused
from tests.store import Shelf, new_yarn

SWATCH = Swatch(29, 29, 8)


@pytest.fixture
def yarn(cast: Cast) -> Yarn:
    """45 g, enough for four or five squares of 8 g."""
    known: dict[str, Any] = {"category": 4, "fibres": {Fibre.WOOL: 100}, "swatch": SWATCH}
    return new_yarn(cast.cora, 45, dye_lot="A", ball_grams=50, price="3.20", **known)


@pytest.fixture
def desk(plan: Plan, yarn: Yarn) -> Desk:
    """Two panels of four squares, all navy."""
    desk = plan(4, 2)
    desk.blanket.seams = [["B1", "C1"], ["B2", "C2"]]
    desk.blanket.save()
    desk.blanket.squares.update(colour="Navy")
    return desk


def planned(desk: Desk, by: Any, grams: int, dye_lot: str = "new", **more: Any) -> Yarn:
    facts: dict[str, Any] = {"colour": "Navy", "way": LotWay.AT_A_SEAM}
    return plan_new_lot(
        blanket=desk.blanket, dye_lot=dye_lot, grams=grams, by=by, now=NOW, **facts | more
    )


def navy(desk: Desk) -> ToBuy:
    return next(each for each in purchase(desk.blanket).colours if each.supply.colour == "Navy")


def squares_in(desk: Desk, yarn: Yarn) -> list[str]:
    return [str(square) for square in desk.blanket.squares.filter(dye_lot=yarn)]


def test_it_lies_in_the_plan_is_still_short_and_is_reserved_as_it_comes(
    cast: Cast, desk: Desk, yarn: Yarn
) -> None:
    before = navy(desk)
    new = planned(desk, cast.cora, 60)
    assert (new.category, new.fibres, new.swatch, new.ball_grams) == (4, yarn.fibres, SWATCH, 50)
    panels = [["A1", "B1", "A2", "B2"], ["C1", "D1", "C2", "D2"]]
    assert sorted([squares_in(desk, yarn), squares_in(desk, new)]) == panels
    assert navy(desk).short == before.short  # it is not there yet
    assert planned(desk, cast.cora, 60) == new  # again
    assert Event.objects.filter(verb="lot-planned").count() == 1
    assert list(audit_yarns()) == []

    Shelf(new, cast.cora).receive(50)
    kept = Reservation.objects.get()
    assert (kept.grams, kept.to_come) == (50, 10)
    Shelf(new, cast.cora).receive(50)
    kept.refresh_from_db()
    assert (kept.grams, kept.to_come) == (60, 0)
    assert navy(desk).short != before.short
    assert list(audit_yarns()) == []


def test_what_is_to_come_counts_for_its_own_blanket_alone(
    cast: Cast, desk: Desk, plan: Plan, yarn: Yarn
) -> None:
    new = planned(desk, cast.cora, 60)
    other = plan(2, 2)
    other.blanket.squares.update(colour="Navy")
    lots = navy(other).supply.lots
    assert lots is not None
    assert {lot.yarn.pk: (lot.grams, lot.to_come) for lot in lots.every} == {
        yarn.pk: (45, 0),
        new.pk: (0, 0),
    }


def test_it_is_taken_out_again(cast: Cast, desk: Desk, yarn: Yarn) -> None:
    new = planned(desk, cast.cora, 60)
    planned(desk, cast.cora, 0)
    assert not Reservation.objects.exists()
    assert not LotChoice.objects.exists()
    assert squares_in(desk, yarn) == squares_in(desk, new) == []
    reserve_yarn(blanket=desk.blanket, yarn=yarn, grams=20, by=cast.cora, now=NOW)
    planned(desk, cast.cora, 50, dye_lot="A")  # more of the lot that is there
    assert not LotChoice.objects.exists()
    kept = Reservation.objects.get()
    assert (kept.grams, kept.to_come) == (20, 50)
    reserve_yarn(blanket=desk.blanket, yarn=yarn, grams=0, by=cast.cora, now=NOW)
    kept.refresh_from_db()
    assert (kept.grams, kept.to_come) == (0, 50)
    with refused(
        "no-such-lot", "The store has no such dye lot of Rose any more; look at the store again."
    ):
        planned(desk, cast.cora, 10, colour="Rose")


def test_a_lot_that_never_came_leaves_the_store_with_the_plan(cast: Cast, desk: Desk) -> None:
    new = planned(desk, cast.cora, 60)
    planned(desk, cast.cora, 0)
    assert not Yarn.objects.filter(pk=new.pk).exists()
    with refused(
        "no-such-lot", "The store has no such dye lot of Navy any more; look at the store again."
    ):
        planned(desk, cast.cora, 0)


def test_a_lot_of_which_some_came_or_some_is_knitted_stays(cast: Cast, desk: Desk) -> None:
    new = planned(desk, cast.cora, 60)
    Shelf(new, cast.cora).receive(50)
    planned(desk, cast.cora, 0)
    assert Yarn.objects.filter(pk=new.pk).exists()
    other = planned(desk, cast.cora, 60, dye_lot="other")
    desk.blanket.squares.filter(column=1, row=1).update(dye_lot=other)
    desk.claim("A1", cast.vera)
    planned(desk, cast.cora, 0, dye_lot="other")
    assert squares_in(desk, other) == ["A1"]
    assert Yarn.objects.filter(pk=other.pk).exists()
