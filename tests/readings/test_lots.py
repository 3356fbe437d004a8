"""Dye lots are never added up unless somebody has chosen so, and unlike yarns never."""

from collections.abc import Callable

import pytest

from drives.actions.colours.lots import choose_lots, keep_to_one_lot
from drives.craft.yarn.lots import LotWay, Unlike
from drives.craft.yarn.rests_on import RestsOn
from drives.models import Move, Reservation, Square, Yarn, YarnWay
from drives.readings.supply import Supply, supplies
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk

WOOL, ACRYLIC = {"wool": 100}, {"acrylic": 100}
Add = Callable[..., Yarn]


@pytest.fixture
def add(cast: Cast) -> Add:
    def make(lot: str, grams: int, category: int | None, fibres: object) -> Yarn:
        return Yarn.objects.create(
            circle=cast.circle, colour="plum", value="#224466", dye_lot=lot, grams=grams,
            category=category, fibres=fibres, added_at=NOW,
        )  # fmt: skip

    return make


@pytest.fixture
def desk(plan: Plan) -> Desk:
    """Nine squares of plum."""
    desk = plan(3, 3)
    desk.blanket.squares.update(colour="plum")
    return desk


def plum(desk: Desk) -> Supply:
    (found,) = supplies(desk.blanket)
    return found


# The case of the review: lot A 60 g of bulky wool, lot B 60 g of super fine acrylic.
def test_lots_of_unlike_yarn_are_not_added_up(desk: Desk, add: Add) -> None:
    bulky, fine = add("A", 60, 5, WOOL), add("B", 60, 1, ACRYLIC)
    found = plum(desk)
    assert found.grams == 60
    assert found.lots
    assert found.lots.yarns == [bulky]
    assert [(each.lot.yarn, each.why) for each in found.lots.apart] == [(fine, Unlike.THICKNESS)]
    assert found.known
    assert found.known.rests_on == RestsOn(found.known.rests_on.evidence, category=5)


def test_lots_of_like_yarn_are_not_added_up_either(desk: Desk, add: Add) -> None:
    add("A", 60, 4, WOOL)
    larger = add("B", 70, 4, WOOL)
    found = plum(desk)
    assert found.grams == 70
    assert found.lots
    assert found.lots.yarns == [larger]
    assert [each.why for each in found.lots.apart] == [None]


def test_they_are_where_somebody_chose_so(cast: Cast, desk: Desk, add: Add) -> None:
    lots = [add("A", 60, 4, WOOL), add("B", 70, 4, WOOL), add("C", 90, 4, ACRYLIC)]
    choose_lots(
        blanket=desk.blanket, colour="plum", yarns=[lots[0].pk, lots[1].pk],
        way=LotWay.AT_A_SEAM, by=cast.cora, now=NOW,
    )  # fmt: skip
    found = plum(desk)
    assert found.lots
    assert (found.grams, found.lots.way) == (130, LotWay.AT_A_SEAM)
    assert [each.why for each in found.lots.apart] == [Unlike.FIBRES]
    lots[0].fibres = ACRYLIC  # found out later
    lots[0].save()
    assert plum(desk).grams == 90
    lots[0].fibres = WOOL
    lots[0].save()
    keep_to_one_lot(blanket=desk.blanket, colour="plum", by=cast.cora, now=NOW)
    assert plum(desk).grams == 90


def test_what_was_noted_of_another_lot_is_not_counted_twice(
    cast: Cast, desk: Desk, add: Add
) -> None:
    add("A", 100, 4, WOOL)
    small = add("B", 50, 4, WOOL)
    desk.knit("A1", cast.vera, at=NOW + DAY)
    desk.blanket.squares.filter(state="finished").update(grams=30)
    assert plum(desk).grams == 70
    Move.objects.create(way=YarnWay.KNITTED, grams=-30, yarn=small, by=cast.cora, at=NOW)
    assert plum(desk).grams == 100


# 100 g of plum, of which another blanket has 40 g reserved.
def test_what_others_have_reserved_is_not_counted(
    cast: Cast, plan: Plan, desk: Desk, add: Add
) -> None:
    yarn = add("A", 100, 4, WOOL)
    other = plan(2, 1)
    Reservation.objects.create(blanket=other.blanket, yarn=yarn, grams=40)
    assert plum(desk).grams == 60
    # What the other blanket needs is within what is reserved for it.
    desk.knit("A1 B1", cast.vera)
    desk.blanket.squares.filter(state="finished").update(grams=8, finished_at=NOW - DAY)
    other.blanket.squares.update(colour="plum")
    assert plum(desk).grams == 60
    Reservation.objects.update(grams=5)  # all but 5 g of what it needs are not reserved
    theirs = plum(other).known
    assert theirs
    assert plum(desk).grams == pytest.approx(95 - (2 * 841 * theirs.mean - 5))


def test_what_is_reserved_is_there_whatever_others_need(
    cast: Cast, plan: Plan, desk: Desk, add: Add
) -> None:
    yarn, larger = add("A", 100, 4, WOOL), add("B", 300, 4, WOOL)
    Reservation.objects.create(blanket=desk.blanket, yarn=yarn, grams=70)
    others = [plan(9, 9) for _ in range(3)]
    Square.objects.update(colour="plum")
    found = plum(desk)
    assert found.lots
    assert found.lots.yarns == [yarn]
    assert found.grams == 70
    assert found.lots.apart[0].lot.yarn == larger
    # Squares that are finished use it up, though nobody has noted them as knitted up yet.
    desk.knit("A1 B1", cast.vera, at=NOW + DAY)
    desk.blanket.squares.filter(state="finished").update(grams=8)
    assert plum(desk).grams == pytest.approx(70 - 16)
    # Those of others use up what is free, or reserved for them.
    others[0].knit("A1", cast.vera, at=NOW + DAY)
    others[0].blanket.squares.filter(state="finished").update(grams=8)
    assert plum(desk).grams == pytest.approx(70 - 16)
