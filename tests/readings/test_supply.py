"""What a stitch of each colour weighs, what there is of it, and whether it will be enough."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.actions.squares.weights import weigh_square
from drives.craft.places import Place
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.craft.yarn.weighing import PerStitch
from drives.models import Blanket, Holding, Move, Square, Yarn, YarnWay
from drives.readings.demand import left_for
from drives.readings.lots import Lots, lots_of, used_in
from drives.readings.stock import stock, suffices_for
from drives.readings.supply import Supply, supplies
from drives.readings.weights import is_odd, weighed_so_far, weights
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk

STITCHES = 841  # in a square of 20 along its side: 2n² + 2n + 1 (TRADE.md, section 2)

Add = Callable[..., Yarn]


@pytest.fixture
def add(cast: Cast) -> Add:
    """A yarn in the circle's store, noted after all squares were finished."""

    def make(colour: str, grams: int, **more: Any) -> Yarn:
        facts = {"value": "#224466", "added_at": NOW + DAY} | more
        return Yarn.objects.create(circle=cast.circle, colour=colour, grams=grams, **facts)

    return make


def grams_a_square(known: PerStitch | None) -> float:
    """Of 20 stitches along its side."""
    assert known
    return known.mean * STITCHES


def scale(desk: Desk, weighed: dict[str, float], cast: Cast) -> None:
    for name, grams in weighed.items():
        weigh_square(square=desk.square(name), by=cast.olga, grams=Decimal(str(grams)), now=NOW)


def paint(desk: Desk, **colours: str) -> None:
    """These squares in a colour; the rest of the blanket has none."""
    for colour, names in colours.items():
        desk.blanket.squares.at_any(map(Place.parse, names.split())).update(colour=colour)


def lots(blanket: Blanket) -> dict[str, Lots]:
    return lots_of(blanket, stock(blanket.drive.circle))


def of(blanket: Blanket, colour: str) -> Supply:
    return next(each for each in supplies(blanket) if each.colour == colour)


# Three squares of one row, 8 g each as published for 20 stitches of DK on a scale of 1 g
# (louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023).
@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1, B1 and C1 are finished and weigh 8 g each; D1 to F1 are rust and still to be knitted."""
    desk = plan(6, 1)
    desk.knit("A1 B1 C1", cast.vera)
    scale(desk, {"A1": 8, "B1": 8, "C1": 8}, cast)
    paint(desk, sage="A1 B1 C1", rust="D1 E1 F1")
    return desk


def test_the_best_ground_there_is(cast: Cast, plan: Plan, add: Add) -> None:
    desk = plan(6, 1)
    desk.knit("A1 B1 C1 D1", cast.vera)
    paint(desk, sage="A1 B1 C1", rust="D1 E1 F1")
    yarns = [add("rust", 100, category=3), add("plum", 50), add("sage", 9)]
    known = weights(desk.blanket, yarns)
    assert known["plum"] is None
    assert known["rust"]
    assert known["rust"].rests_on == RestsOn(Evidence.CATEGORY, category=3)
    yarns[0].swatch_stitches, yarns[0].swatch_rows, yarns[0].swatch_grams = 30, 60, Decimal(18)
    known = weights(desk.blanket, yarns)
    assert grams_a_square(known["rust"]) == pytest.approx(18 / 1800 * STITCHES)
    scale(desk, {"A1": 8, "B1": 8}, cast)
    known = weights(desk.blanket, yarns)
    assert grams_a_square(known["rust"]) == pytest.approx(8)
    assert known["plum"] == known["rust"]
    scale(desk, {"C1": 8, "D1": 12}, cast)
    known = weights(desk.blanket, yarns)
    assert grams_a_square(known["sage"]) == pytest.approx(8)
    assert grams_a_square(known["rust"]) == pytest.approx(9)


def test_a_large_square_counts_by_its_stitches(cast: Cast, desk: Desk) -> None:
    Square.objects.filter(pk=desk.square("A1").pk).update(size=2, grams=32)
    known = grams_a_square(weighed_so_far(desk.blanket))
    assert known == pytest.approx((32 + 8 + 8) / (3281 + 2 * STITCHES) * STITCHES)


def test_a_mistyped_weight_is_found(cast: Cast, plan: Plan) -> None:
    desk = plan(6, 1)
    desk.knit("A1 B1 C1 D1 E1", cast.vera)
    scale(desk, {"A1": 8, "B1": 8.5, "C1": 8, "D1": 7.5, "E1": 85}, cast)
    assert [is_odd(desk.square(name)) for name in ("A1", "E1", "F1")] == [False, True, False]
    assert of(desk.blanket, "").odd == (Place.parse("E1"),)
    assert grams_a_square(weighed_so_far(desk.blanket)) == pytest.approx(8)


def test_the_stock_of_a_colour_is_in_the_store_and_in_hands(
    cast: Cast, add: Add, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    lots = [add("rust", 100, dye_lot="7"), add("rust", 30, dye_lot="8")]
    add("navy", 0)
    for member, grams in ((cast.vera, 20), (cast.paul, 25)):
        Holding.objects.create(yarn=lots[0], member=member, grams=grams)
    with django_assert_num_queries(1):
        found = stock(cast.circle)
    assert list(found) == ["navy", "rust"]
    rust = found["rust"]
    assert (rust.stored, rust.held, rust.grams, rust.yarns) == (130, 45, 175, lots)


# By hand: 8 g a square; the guess of 8 % (0.64 g) with what a scale of 1 g hides (1/√12 g) is
# 0.702 g, and three squares alike bring it to 0.702 × √(2/4) = 0.496 g, the mean's doubt to
# 0.287 g. With 4 degrees of freedom 90 % are 1.533 sigma (t-table): one square takes 8.88 g, two
# 17.39 g and three 25.86 g, and tails 3 % more: 9.15, 17.91 and 26.64 g.
def test_so_many_squares_surely(desk: Desk, add: Add) -> None:
    add("rust", 0, metres_per_100_grams=200)
    for grams, surely in ((9, 0), (10, 1), (17, 1), (18, 2), (26, 2), (27, 3)):
        Yarn.objects.update(grams=grams)
        rust = of(desk.blanket, "rust")
        assert rust.enough
        assert (rust.enough.left, rust.enough.suffices_for) == (3, surely)
        assert rust.due == (surely < 2)
    assert rust.takes
    assert rust.takes.metres
    assert rust.takes.metres.low == pytest.approx(rust.takes.grams.low * 2)


def test_what_is_in_hand_is_knitted_first(cast: Cast, desk: Desk, add: Add) -> None:
    add("rust", 18)
    desk.claim("D1", cast.vera)
    assert not of(desk.blanket, "rust").due
    desk.blanket.squares.filter(column=5).update(state="taken", unmet=0)
    rust = of(desk.blanket, "rust")
    assert (rust.begun, rust.due) == (2, True)


def test_what_is_not_known_is_not_said(cast: Cast, plan: Plan, desk: Desk, add: Add) -> None:
    rust = of(desk.blanket, "rust")
    assert rust.takes
    assert rust.takes.rests_on == RestsOn(Evidence.BLANKET, 3)
    assert (rust.lots, rust.enough, rust.due) == (None, None, False)
    add("rust", 10)
    unweighed = plan(2, 1)
    paint(unweighed, rust="A1 B1")
    rust = of(unweighed.blanket, "rust")
    assert (rust.takes, rust.enough, rust.due) == (None, None, False)


def test_other_blankets_need_some_of_it(cast: Cast, plan: Plan, desk: Desk, add: Add) -> None:
    add("rust", 100)
    other = plan(4, 1)
    other.knit("A1", cast.vera)
    paint(other, rust="A1 B1 C1", sage="D1")
    # Nothing of it is weighed: its two unfinished squares are taken to weigh as ours do.
    assert left_for(desk.blanket, lots(desk.blanket)) == {"rust": pytest.approx(100 - 16)}
    scale(other, {"A1": 10}, cast)
    assert left_for(desk.blanket, lots(desk.blanket)) == {"rust": pytest.approx(100 - 20)}
    assert of(desk.blanket, "rust").grams == pytest.approx(80)
    Yarn.objects.update(grams=15)
    assert left_for(desk.blanket, lots(desk.blanket)) == {"rust": 0}


def test_what_is_knitted_up_and_not_noted_is_gone(cast: Cast, desk: Desk, add: Add) -> None:
    rust = add("rust", 100, added_at=NOW)
    desk.knit("D1 E1", cast.vera, at=NOW + DAY)
    scale(desk, {"D1": 10}, cast)

    def knitted() -> float:
        return of(desk.blanket, "rust").demand.knitted

    # D1 weighs 10 g, E1 as the mean of the four: 8.5 g.
    assert knitted() == pytest.approx(18.5)
    assert of(desk.blanket, "rust").grams == pytest.approx(81.5)
    move = {"yarn": rust, "by": cast.cora, "at": NOW + DAY}
    Move.objects.create(way=YarnWay.RECEIVED, grams=100, **move)
    Move.objects.create(way=YarnWay.HANDED_OUT, grams=-20, held=20, member=cast.vera, **move)
    assert knitted() == pytest.approx(18.5)
    Move.objects.create(way=YarnWay.KNITTED, held=-12, member=cast.vera, **move)
    assert knitted() == pytest.approx(6.5)
    Move.objects.create(way=YarnWay.COUNTED, grams=3, **move)
    Move.objects.create(way=YarnWay.COUNTED, grams=-9, **move)
    assert knitted() == 0


def room(desk: Desk) -> dict[str, int | None]:
    """For how many more squares what is there suffices, with the blanket's margin."""
    known = weights(desk.blanket, used_in(lots(desk.blanket)))
    left = left_for(desk.blanket, lots(desk.blanket), known)
    return suffices_for(desk.blanket, known, left, desk.blanket.colour_margin)


def test_room_keeps_the_margin_back(desk: Desk, add: Add) -> None:
    add("rust", 44)
    # 8 g and 10 % in reserve are 8.8 g a square.
    assert room(desk) == {"rust": 5}
    Yarn.objects.update(grams=43)
    assert room(desk) == {"rust": 4}


def test_room_is_unknown_without_a_weight(plan: Plan, add: Add) -> None:
    add("rust", 100)
    assert room(plan()) == {"rust": None}


@pytest.mark.parametrize(("side", "others"), [(4, 1), (8, 2)])
def test_it_takes_as_many_queries_at_any_size(
    plan: Plan,
    add: Add,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
    others: int,
) -> None:
    add("rust", 100)
    blankets = [plan(side, side).blanket for _ in range(1 + others)]
    Square.objects.update(colour="rust")
    with django_assert_num_queries(9):
        supplies(blankets[0])
