"""Measuring swatches and squares, and what they tell of each member."""

from decimal import Decimal

import pytest

from accounts.actions import remove_member
from accounts.models import Member
from drives.actions.squares.measurements import Measured, measure_square
from drives.craft.gauge.tension import Tension
from drives.models import Measurement
from drives.readings.gauges import Knits, knits
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, nothing_changes, refused


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """At 20 stitches to 10 cm, so that a square is 10 cm wide; A1 and B1 are Vera's, finished."""
    desk = plan(3, 3)
    desk.knit("A1 B1", cast.vera)
    return desk


def tell(
    desk: Desk,
    member: Member,
    side: str,
    square: str = "",
    *,
    needle: str | None = "4",
    by: Member | None = None,
    day: int = 0,
) -> Measurement:
    """20 stitches and 20 ridges with this side, of a square or a swatch."""
    cm = Decimal(side)
    return measure_square(
        blanket=desk.blanket,
        member=member,
        by=by or member,
        square=desk.square(square) if square else None,
        measured=Measured(20, cm, 20, cm, Decimal(needle) if needle else None),
        now=NOW + day * DAY,
    )


def of(desk: Desk, member: Member) -> Knits:
    return next(each for each in knits(desk.blanket) if each.member == member)


def test_a_square_is_measured_once_and_corrected_later(cast: Cast, desk: Desk) -> None:
    first = tell(desk, cast.vera, "11", "A1")
    assert tell(desk, cast.vera, "10.5", "A1", day=1).pk == first.pk
    with nothing_changes():
        tell(desk, cast.vera, "10.5", "A1", day=2)
    row = Measurement.objects.get()
    assert (row.stitches, row.width, row.ridges, row.height) == (20, Decimal("10.5")) * 2
    assert row.needle == 4
    assert row.measured_at == NOW + DAY
    event = desk.events()[-1]
    assert (event.verb, event.by) == ("measured", cast.vera)
    assert event.facts == {"place": "A1", "member": cast.vera.pk}


def test_a_swatch_follows_the_other(cast: Cast, desk: Desk) -> None:
    tell(desk, cast.vera, "11")
    tell(desk, cast.vera, "10", needle="3.5", day=1)
    with nothing_changes():  # the same form sent twice
        tell(desk, cast.vera, "10", needle="3.5", day=1)
    assert [row.width for row in Measurement.objects.all()] == [11, 10]
    assert desk.events()[-1].facts == {"place": "", "member": cast.vera.pk}


def test_a_coordinator_measures_for_others_and_nobody_else_does(
    cast: Cast, desk: Desk, will: Member
) -> None:
    assert tell(desk, cast.vera, "11", "A1", by=cast.cora).member == cast.vera
    assert tell(desk, cast.paul, "10", by=cast.cora).member == cast.paul
    with refused("not-yours", "Only Paul, or a coordinator for them, can do this."):
        tell(desk, cast.paul, "10", by=will)
    text = "A1 was knitted by Vera; only they, or a coordinator, can do this."
    with refused("not-yours", text):
        tell(desk, will, "10", "A1")
    with refused("not-yours", text):  # and not for anybody but who knitted it
        tell(desk, cast.paul, "10", "A1", by=cast.cora)


def test_what_is_not_finished_is_not_measured(cast: Cast, desk: Desk) -> None:
    text = "C1 is not finished yet; weigh it and measure it when it is."
    with refused("not-finished", text):
        tell(desk, cast.vera, "10", "C1")


def test_squares_tell_more_than_a_swatch(cast: Cast, desk: Desk) -> None:
    tell(desk, cast.vera, "10")
    assert of(desk, cast.vera).compared.tension is Tension.EVEN
    tell(desk, cast.vera, "11", "A1", day=1)
    tell(desk, cast.vera, "12", "B1", day=2)
    tell(desk, cast.vera, "10", day=3)
    vera = of(desk, cast.vera)
    # Two squares of 11 and 12 cm: 11.5 cm on average, 15 % more than the planned 10.
    assert vera.drift
    assert vera.drift.squares == 2
    assert vera.drift.mean == pytest.approx(11.5)
    assert vera.compared.off == pytest.approx(0.15)


def test_another_needle_begins_anew(cast: Cast, desk: Desk) -> None:
    tell(desk, cast.vera, "11", "A1")
    tell(desk, cast.vera, "10", needle="3.5", day=1)
    vera = of(desk, cast.vera)
    assert (vera.drift, vera.needle, vera.compared.off) == (None, 3.5, 0)


def test_squares_of_any_size_are_told_as_one_unit(cast: Cast, desk: Desk) -> None:
    measure_square(
        blanket=desk.blanket,
        member=cast.vera,
        by=cast.vera,
        square=desk.square("A1"),
        measured=Measured(40, Decimal(22), 40, Decimal(22), None),
        now=NOW,
    )
    vera = of(desk, cast.vera)
    assert vera.drift
    assert vera.drift.mean == pytest.approx(11)
    assert vera.needle is None


def test_who_has_left_is_told_no_more(cast: Cast, desk: Desk) -> None:
    tell(desk, cast.vera, "11", "A1")
    tell(desk, cast.olga, "10")
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    assert [each.member for each in knits(desk.blanket)] == [cast.olga]
