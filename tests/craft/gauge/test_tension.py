"""A knitter's gauge: measured, compared, and the needle to try. TRADE.md, sections 1 and 5."""

from itertools import product
from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.gauge.needles import NEEDLES, needle
from drives.craft.gauge.tension import Compared, Crook, Gauge, Tension, of_swatch
from drives.craft.layout.layout import Layout
from drives.craft.layout.sizing import CM_PER_INCH
from tests.craft.situations import often

FOUR_INCHES = 4 * CM_PER_INCH
gauges = st.floats(6, 45)
factors = st.floats(0.3, 3)
needles = st.sampled_from([each.mm for each in NEEDLES])


def test_a_swatch_of_garter_stitch() -> None:
    # makerist.com/patterns/memory-blanket: 22 stitches and 44 rows, 22 ridges, to 4 in
    found = of_swatch(FOUR_INCHES, 22, FOUR_INCHES, 22)
    assert found == pytest.approx((21.65, 21.65), abs=0.01)
    assert found.mean == pytest.approx(found.stitches)
    assert found.crooked is None
    assert of_swatch(8, 18, height=8) == of_swatch(8, 18, ridges=20) == Gauge(22.5, None)


@pytest.mark.parametrize(
    ("stitches", "inches", "gauge"),
    # louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023; told to the
    # quarter inch. Sock yarn: 28 stitches to 4 in; DK: 21.
    [
        *[(15, 2, 28), (20, 3, 28), (25, 3.75, 28), (30, 4.25, 28), (35, 5.25, 28)],
        *[(10, 2, 21), (15, 3, 21), (20, 3.75, 21), (25, 4.5, 21), (30, 5.5, 21)],
    ],
)
def test_published_squares_have_the_gauge_that_is_told(
    stitches: int, inches: float, gauge: float
) -> None:
    low, high = (stitches / ((inches + off) * CM_PER_INCH) * 10 for off in (0.27, -0.27))
    assert low <= gauge / FOUR_INCHES * 10 <= high


def test_stitches_and_ridges_make_the_sides_of_a_square_together() -> None:
    # 20 stitches are 10 cm along the foundation, 20 ridges 8 cm along the row ends: 9 cm
    assert Gauge(20, 25).mean == pytest.approx(20 / 0.9)
    assert Gauge(20).mean == 20


def test_ridges_that_are_no_stitch_tall() -> None:
    assert Gauge(20, 22).crooked is None  # within 10 %
    for gauge, crook, share in (
        (Gauge(20, 25), Crook.SHORTER, -0.2),
        (Gauge(25, 20), Crook.LONGER, 0.25),
        (Gauge(20, 40), Crook.ROWS_COUNTED, -0.5),
    ):
        found = gauge.crooked
        assert found
        assert found.crook is crook
        assert found.share == pytest.approx(share)


@pytest.mark.parametrize(
    ("planned", "measured", "tension", "off", "far"),
    [
        (20, 20, Tension.EVEN, 0, False),
        (20, 21, Tension.EVEN, -1 / 21, False),  # the tolerance itself
        (21, 20, Tension.EVEN, 0.05, False),
        (20, 21.1, Tension.TIGHT, -1.1 / 21.1, False),
        (20, 19, Tension.LOOSE, 1 / 19, False),
        (20, 25, Tension.TIGHT, -0.2, False),
        (20, 26, Tension.TIGHT, -6 / 26, True),
        (20, 15, Tension.LOOSE, 1 / 3, True),
    ],
)
def test_tight_even_and_loose(
    planned: float, measured: float, tension: Tension, off: float, far: bool
) -> None:
    found = Compared(planned, measured)
    assert (found.tension, found.far) == (tension, far)
    assert found.off == pytest.approx(off)


def test_what_the_blanket_becomes() -> None:
    # knit-a-square.com/faqs: 5 × 7 squares of 20 cm are 1.0 × 1.4 m; at 16 for 20 stitches, a
    # quarter larger
    layout = Layout(5, 7, 40)
    assert Compared(20, 20).blanket(layout) == pytest.approx((100, 140))
    assert Compared(20, 16).blanket(layout) == pytest.approx((125, 175))
    assert Compared(20, 16).side(40) == pytest.approx(25)
    assert Compared(20, 16).blanket(layout, border=4) == pytest.approx((130, 180))


def test_published_drift_of_sizes_is_seen() -> None:
    # sources.md: of squares meant to be 7 in, sizes ran from 6 × 5.5 to over 8 in
    planned, small, large = (350 / (inches * CM_PER_INCH) for inches in (7, 5.75, 8))
    assert Compared(planned, small).tension is Tension.TIGHT
    assert Compared(planned, large).tension is Tension.LOOSE
    assert Compared(planned, small).off == pytest.approx(5.75 / 7 - 1)


def test_stitches_times_millimetres_stay_about_the_same() -> None:
    # Craft Yarn Council, Standard Yarn Weight System: the rule's ground, fine to bulky
    products, bends = [], []
    for fewest, most, thinnest, thickest in (
        *((23, 26, 3.25, 3.75), (21, 24, 3.75, 4.5), (16, 20, 4.5, 5.5), (12, 15, 5.5, 8)),
    ):
        products += [fewest * thickest, most * thinnest]
        bends.append(log(most / fewest) / log(thickest / thinnest))
    assert 82 <= min(products) <= max(products) <= 96
    assert 0.8 <= sum(bends) / len(bends) <= 1  # in proportion, or a little less


@pytest.mark.parametrize(
    ("mm", "planned", "measured", "tried"),
    [
        # jimmybeanswool.com, instructional article 12, one yarn: 3.5 stitches to the inch on US 10
        # (6 mm), 4.5 on US 7 (4.5 mm), 6 on US 2 (2.75 mm)
        (6, 4.5, 3.5, 4.5),
        (4.5, 3.5, 4.5, 6),
        (2.75, 4.5, 6, 3.75),  # on the way to 4.5
        (4, 20, 22, 4.5),
        (4, 20, 18, 3.5),
        (4, 20, 21.2, 4.5),  # 4.24 is nearest to 4 itself, which was not right
        (4, 20, 18.9, 3.75),
        (4, 20, 20.5, 4),  # even: keep it
        (4.25, 20, 20.5, 4.25),
        (4.25, 20, 22, 4.5),  # a needle that is in no table
        (12, 20, 24, None),
        (2, 20, 16, None),
        (10, 20, 40, 12),
    ],
)
def test_the_needle_to_try(mm: float, planned: float, measured: float, tried: float | None) -> None:
    found = Compared(planned, measured).next_needle(mm)
    assert (found and found.mm) == tried


@often
@given(needles, gauges, gauges)
def test_a_tight_hand_gets_a_larger_needle_a_loose_one_a_smaller(
    mm: float, planned: float, measured: float
) -> None:
    compared = Compared(planned, measured)
    found = compared.next_needle(mm)
    match compared.tension:
        case Tension.EVEN:
            assert found == needle(mm)
        case Tension.TIGHT:
            assert found is None if mm == 12 else found is not None and found.mm >= mm
        case Tension.LOOSE:
            assert found is None if mm == 2 else found is not None and found.mm <= mm


def test_the_needle_to_try_never_makes_it_worse() -> None:
    """F9 of the review: in 147 of 90 069 cases it did, if stitches go with mm to the −0.6."""
    stays = 0
    for each, planned, measured in product(NEEDLES, range(80, 321, 4), range(80, 321, 4)):
        compared = Compared(planned / 10, measured / 10)
        if not (tried := compared.next_needle(each.mm)):
            continue
        for law in (0.69, 0.6):  # by the published stitches; and a little less
            after = Compared(planned / 10, measured / 10 * (each.mm / tried.mm) ** law)
            off = max(after.planned / after.measured, after.measured / after.planned)
            assert off <= max(planned / measured, measured / planned) + 1e-9
        stays += tried == each and compared.tension is not Tension.EVEN
    assert 0 < stays < 300  # only where it must


@often
@given(needles, gauges, st.tuples(gauges, gauges))
def test_the_tighter_the_larger_the_needle(
    mm: float, planned: float, both: tuple[float, float]
) -> None:
    loose, tight = (Compared(planned, each).next_needle(mm) for each in sorted(both))
    if loose and tight:
        assert loose.mm <= tight.mm


@often
@given(gauges, gauges, factors)
def test_how_far_off_does_not_depend_on_units_nor_on_who_is_right(
    planned: float, measured: float, factor: float
) -> None:
    found, other = Compared(planned, measured), Compared(planned * factor, measured * factor)
    assert other.off == pytest.approx(found.off)
    assert (other.tension, other.far) == (found.tension, found.far)
    mirrored = {Tension.TIGHT: Tension.LOOSE, Tension.LOOSE: Tension.TIGHT}
    back = Compared(measured, planned)
    assert back.tension is mirrored.get(found.tension, Tension.EVEN)
    assert back.far == found.far
    assert found.side(20) == pytest.approx(20 / planned * 10 * (1 + found.off))
