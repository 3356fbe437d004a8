"""What is to be bought for a blanket, and what it will weigh."""

from decimal import Decimal
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.actions.yarn.buying import set_buying
from drives.craft.fibre.fibres import Fibre
from drives.craft.yarn.enough import needed
from drives.craft.yarn.weighing import PerStitch
from drives.models import Blanket, Buying, Yarn
from drives.readings.buying import Purchase, ToBuy, purchase
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk
from tests.store import new_yarn

STITCHES = 841  # in a square of 20 along its side: 2n² + 2n + 1 (TRADE.md, section 2)
WISHES: dict[str, Any] = {
    "certainty": 90,
    "border_ridges": 0,
    "border_colour": "",
    "seam_colour": "",
    "packaging": 200,
    "postage": None,
}


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 to C1 are finished and weigh 8 g each, rust; D1 to F1 are rust too."""
    desk = plan(6, 1)
    desk.knit("A1 B1 C1", cast.vera)
    desk.blanket.squares.update(colour="rust")
    desk.blanket.squares.filter(state="finished").update(grams=8)
    return desk


def wish(desk: Desk, by: Any, **changed: Any) -> Buying:
    return set_buying(blanket=desk.blanket, by=by, now=NOW, **WISHES | changed)


def rust(found: Purchase) -> ToBuy:
    return next(each for each in found.colours if each.supply.colour == "rust")


def known(found: Purchase) -> PerStitch:
    per_stitch = rust(found).supply.known
    assert per_stitch
    return per_stitch


def short(found: Purchase) -> tuple[float, int | None, int | None]:
    told = rust(found).short
    assert told
    return told.grams, told.balls, told.balls_anew


# Three squares of 8 g surely take 26.64 g (see test_supply): 90 % of what may come, with tails.
def test_what_is_short_is_told_in_balls_of_one_lot(cast: Cast, desk: Desk) -> None:
    facts = {"colour": "rust", "category": 4, "fibres": {Fibre.WOOL: 100}, "ball_grams": 10}
    new_yarn(cast.cora, 15, dye_lot="A", **facts)
    new_yarn(cast.cora, 12, dye_lot="B", **facts)
    Yarn.objects.update(added_at=NOW.replace(year=NOW.year + 1))
    grams, balls, anew = short(purchase(desk.blanket))
    assert grams == pytest.approx(26.64 - 15, abs=0.01)
    assert (balls, anew) == (2, 3)
    wish(desk, cast.cora, certainty=50)
    assert short(purchase(desk.blanket))[0] == pytest.approx(24 * 1.03 - 15)
    wish(desk, cast.cora, certainty=95)
    assert short(purchase(desk.blanket))[0] > grams


def test_border_and_seams_are_in_it(cast: Cast, plan: Plan, desk: Desk) -> None:
    before = purchase(desk.blanket)
    assert short(before)[0] == pytest.approx(needed(known(before), [STITCHES] * 3, 0.9))
    wish(desk, cast.cora, border_ridges=2, border_colour="rust")
    around = 2 * (6 * 20 + 20) + 4
    pieces = [STITCHES] * 3 + [2 * around, 2 * (around + 8)]
    found = purchase(desk.blanket)
    assert short(found)[0] == pytest.approx(needed(known(found), pieces, 0.9))
    wish(desk, cast.cora, border_ridges=1, border_colour="navy", seam_colour="navy")
    Blanket.objects.update(seams=[["A1", "B1"]])
    desk.blanket.refresh_from_db()
    names = [each.supply.colour for each in purchase(desk.blanket).colours]
    assert names == ["navy", "rust"]


def test_what_the_blanket_weighs_and_costs(cast: Cast, desk: Desk) -> None:
    new_yarn(cast.cora, 0, colour="rust", ball_grams=50, price=Decimal("3.50"))
    Yarn.objects.update(added_at=NOW.replace(year=NOW.year + 1))
    found = purchase(desk.blanket)
    assert found.weighs
    assert found.parcel
    assert found.costs
    assert found.weighs.low < 48 < found.weighs.high
    assert (found.weighs.low + found.weighs.high) / 2 == pytest.approx(48)
    assert found.parcel.low == pytest.approx(found.weighs.low + 200)
    assert found.costs.high == pytest.approx(found.weighs.high * 3.5 / 50)
    assert found.cost == Decimal("3.50")
    desk.blanket.squares.filter(column=1).update(grams=None)
    lighter = purchase(desk.blanket).weighs
    assert lighter
    assert (lighter.low + lighter.high) / 2 == pytest.approx(48)


def test_what_is_not_known_is_not_said(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1)
    desk.blanket.squares.update(colour="rust")
    found = purchase(desk.blanket)
    assert (rust(found).short, found.weighs, found.parcel, found.costs) == (None,) * 4
    assert found.cost is None


@pytest.mark.parametrize("side", [2, 8])
def test_it_takes_as_many_queries_at_any_size(
    cast: Cast, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries, side: int
) -> None:
    desk = plan(side, side)
    desk.blanket.squares.update(colour="rust")
    new_yarn(cast.cora, 10, colour="rust")
    desk.blanket.plan()
    with django_assert_num_queries(11):
        purchase(desk.blanket)
