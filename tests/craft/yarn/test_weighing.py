"""Grams to a stitch, learned from weighed squares. TRADE.md, section 5; published weights."""

from math import sqrt
from random import Random
from statistics import fmean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import worked
from drives.craft.layout.sizing import CM_PER_INCH
from drives.craft.numbers.outliers import hidden, outliers
from drives.craft.places import Place
from drives.craft.yarn.enough import estimate
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.craft.yarn.weighing import (
    USUAL_SPREAD,
    Swatch,
    Weighed,
    best,
    from_category,
    from_squares,
    from_swatch,
    likely,
)
from drives.craft.yarn.yarn import CATEGORIES, per_stitch
from tests.craft.situations import often

from .test_yarn import DK, METRES_PER_YARD, PUBLISHED_GRAMS, PUBLISHED_METRES, SOCK

SQUARE = 841
weights = st.lists(st.integers(20, 120).map(lambda tenths: tenths / 10), min_size=1, max_size=12)


def weighed(grams: list[float], stitches: int = SQUARE) -> list[Weighed]:
    return [Weighed(Place(at, 1), stitches, each) for at, each in enumerate(grams, 1)]


def published(numbers: list[tuple[int, float, int]]) -> list[Weighed]:
    # louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023
    return [
        Weighed(Place(at, 1), worked(stitches, Mitre.PAIRED), grams)
        for at, (stitches, _, grams) in enumerate(numbers, 1)
    ]


@pytest.mark.parametrize("series", [SOCK, DK])
def test_each_published_weight_follows_from_the_others(
    series: list[tuple[int, float, int]],
) -> None:
    squares = published(series)
    assert from_squares(squares).left_out == ()
    for one in squares:
        known = from_squares([other for other in squares if other is not one])
        found = estimate(known, [one.stitches]).grams
        assert found.low - 0.5 <= one.grams <= found.high + 0.5  # the scale shows whole grams


def test_the_usual_spread_is_that_of_published_squares() -> None:
    spreads = []
    for series in (SOCK, DK):
        each = [square.grams / square.stitches for square in published(series)]
        spreads.append(stdev(each) / fmean(each))
    assert min(spreads) < USUAL_SPREAD < max(spreads)


@pytest.mark.parametrize(("grams", "scale"), [(1.7, 0.1), (1.74, 0.01), (2, 1)])
def test_a_published_blanket_from_one_of_its_squares(grams: float, scale: float) -> None:
    # hunnibunnife.blogspot.com/2012/09/blanket-project-thursday-weeks-1.html: 736 centred squares
    # of 15 and the middle stitch; 1 282 g are 1.74 g a square
    stitches = worked(15, Mitre.CENTRED)
    known = from_squares(weighed([grams], stitches), scale)
    found = estimate(known, [stitches] * 736, PUBLISHED_METRES / PUBLISHED_GRAMS * 100)
    assert found.grams.low < PUBLISHED_GRAMS < found.grams.high
    assert found.metres
    assert found.metres.low < PUBLISHED_METRES < found.metres.high
    assert found.rests_on == RestsOn(Evidence.BLANKET, 1)


def test_a_published_swatch() -> None:
    # yarnnomads.com/blog-1/2016/5/30/another-reason-to-swatch: 50 g are 87 yd, so 4 g are 6.96 yd;
    # 36 square inches of knitting took them, so 72 take twice as much
    known = from_swatch(Swatch(24, 48, 4), scale=0)
    assert known.mean * 24 * 48 == pytest.approx(4)
    found = estimate(known, [2 * 24 * 48], 87 * METRES_PER_YARD / 50 * 100)
    assert found.metres
    assert found.metres.low < 2 * 6.96 * METRES_PER_YARD < found.metres.high
    assert found.rests_on == RestsOn(Evidence.SWATCHES, 1)


def test_squares_come_before_a_swatch_and_a_swatch_before_the_category() -> None:
    squares, swatch, light = weighed([8]), Swatch(20, 40, 8), CATEGORIES[3]
    assert best(squares, swatch, light, 21) == from_squares(squares)
    assert best((), swatch, light, 21, scale=0.1) == from_swatch(swatch, 0.1)
    assert best((), None, light, 21) == from_category(light, 21)
    assert best((), None, light) is None
    assert best() is None


def test_a_category_is_a_range_that_holds_with_ninety_per_cent() -> None:
    usual = per_stitch(CATEGORIES[3], 21)
    found = from_category(CATEGORIES[3], 21)
    assert found.mean - 1.645 * found.doubt == pytest.approx(usual.low, rel=1e-3)
    assert found.mean + 1.645 * found.doubt == pytest.approx(usual.high, rel=1e-3)
    # a published square of DK, 3.75 in and 8 g; a scale of 1 g
    gauge = 20 / (3.75 * CM_PER_INCH) * 10
    grams = estimate(from_category(CATEGORIES[3], gauge), [SQUARE]).grams
    assert grams.low <= 8 <= grams.high


def test_learning_worked_out() -> None:
    # 3 squares of 100 stitches: the mean 5 g; the guess, 0.4 g, counts as two of four
    found = from_squares(weighed([4, 5, 6], 100), scale=0)
    spread = sqrt((2 * 0.4**2 + 2) / 4) / 100
    assert found[:3] == pytest.approx((0.05, spread, spread / sqrt(3)))
    assert found[3:] == (4, RestsOn(Evidence.BLANKET, 3), ())


def test_one_square_is_as_good_as_the_usual_spread_and_the_scale() -> None:
    found = from_squares(weighed([4], 100), scale=1)
    assert found.spread == pytest.approx(sqrt(0.32**2 + 1 / 12) / 100)
    assert found.doubt > found.spread
    assert found.degrees == 2


def test_large_squares_count_for_their_stitches() -> None:
    squares = [Weighed(Place(1, 1), 100, 1), Weighed(Place(2, 1), 300, 4)]
    found = from_squares(squares, scale=0)
    assert found.mean == pytest.approx(5 / 400)
    assert found.doubt == pytest.approx(found.spread * sqrt(100**2 + 300**2) / 400)


def test_what_a_coarse_scale_hides_no_number_of_squares_makes_up_for() -> None:
    coarse = from_squares(weighed([8] * 200), scale=1).doubt * SQUARE
    assert 0.2 < coarse < 0.33  # half a gram at most
    assert from_squares(weighed([8] * 200), scale=0.1).doubt * SQUARE < 0.05
    uneven = from_squares(weighed([7, 8, 9, 8] * 50), scale=1).doubt * SQUARE
    assert uneven < 0.06  # squares that differ by more than its steps do


def test_outliers_of_the_book() -> None:
    # The rule by hand: median 2.45, deviations' median 0.2, so more than 1.04 away is far
    data = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]
    assert outliers(data, [0] * 10) == (8, 9)
    assert outliers([1, 2, 3, 4, 5, 3 + 3.5 * 1.4826 * 1.5 - 0.3], [0] * 6) == ()
    assert outliers([1, 2, 3, 4, 5, 12], [0] * 6) == (5,)


def test_four_are_too_few_to_call_one_an_outlier() -> None:
    assert outliers([8, 8, 8, 80], [0.1] * 4) == ()
    assert outliers([8, 8, 8, 8, 80], [0.1] * 5) == (4,)


def test_a_step_of_the_scale_makes_no_outlier() -> None:
    assert outliers([8, 8, 8, 8, 8, 9], [1] * 6) == ()
    assert outliers([8, 8, 8, 8, 8, 10], [1] * 6) == (5,)
    assert hidden(1) == pytest.approx(0.2887, abs=1e-4)


def test_outliers_are_named_and_left_out() -> None:
    found = from_squares(weighed([8, 8.2, 7.9, 80, 8.1, 7.8]), scale=0.1)
    assert found.left_out == (Weighed(Place(4, 1), SQUARE, 80),)
    assert found.mean * SQUARE == pytest.approx(8)
    assert found.rests_on == RestsOn(Evidence.BLANKET, 5, left_out=(Place(4, 1),))
    two = from_squares(weighed([8, 8.2, 7.9, 80, 8.1, 7.8, 0.8]), scale=0.1)
    assert two.rests_on.left_out == (Place(4, 1), Place(7, 1))


def test_the_spread_that_is_learned_is_the_true_one() -> None:
    random = Random(1)
    found = from_squares(weighed([random.gauss(8, 0.4) for _ in range(3000)]), scale=0)
    assert found.mean * SQUARE == pytest.approx(8, rel=0.005)
    assert found.spread * SQUARE == pytest.approx(0.4, rel=0.05)
    assert found.doubt * SQUARE == pytest.approx(0.4 / sqrt(3000), rel=0.05)


@often
@given(weights, st.floats(0.2, 5))
def test_other_units_of_weight_or_of_stitches_change_nothing(
    grams: list[float], factor: float
) -> None:
    found = from_squares(weighed(grams))
    heavier = from_squares(weighed([each * factor for each in grams]), scale=factor)
    finer = from_squares(weighed(grams, 2 * SQUARE))
    assert heavier[:3] == pytest.approx([each * factor for each in found[:3]])
    assert finer[:3] == pytest.approx([each / 2 for each in found[:3]])
    assert [square.place for square in heavier.left_out] == [
        square.place for square in found.left_out
    ]


@often
@given(st.lists(st.integers(-50, 50), min_size=1, max_size=15), st.integers(0, 5))
def test_outliers_are_few_and_symmetric(values: list[int], step: int) -> None:
    found = outliers(values, [step] * len(values))
    assert 2 * len(found) <= len(values)
    assert outliers([-value for value in values], [step] * len(values)) == found


@pytest.mark.parametrize(("stitches", "inches", "grams"), [*SOCK, *DK])
def test_published_weights_are_likely_and_mistyped_ones_are_not(
    stitches: int, inches: float, grams: int
) -> None:
    usual = likely(worked(stitches, Mitre.PAIRED), stitches / (inches * CM_PER_INCH) * 10)
    assert usual.low < grams < usual.high
    assert grams * 10 > usual.high  # the point forgotten
    assert grams / 28.35 < usual.low  # told in ounces
