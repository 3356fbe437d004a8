"""Will it be enough: probabilities against chance, and the last square that is sure."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.numbers.student import below, t_quantile
from drives.craft.places import Place
from drives.craft.yarn.enough import Enough, estimate, whether_enough
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.craft.yarn.weighing import PerStitch, Weighed, from_category, from_squares
from drives.craft.yarn.yarn import CATEGORIES, CATEGORY_MARGIN, TAILS_SHARE
from tests.craft.situations import often

SQUARE = 841
TEST = RestsOn(Evidence.SQUARES, 6)
KNOWN = PerStitch(0.01, 0.001, 0.0005, 4, TEST)
squares = st.lists(st.sampled_from([100, 400, 841]), max_size=30)
stocks = st.floats(0, 300)


def test_a_probability_worked_out() -> None:
    # Two squares of 100: 2 g, sigma √(2 × 0.1² + (200 × 0.0005)²) = √0.03; tails 3 %
    sigma = 0.03**0.5
    for grams in (1.5, 2.0, 2.06, 2.5):
        found = whether_enough(KNOWN, [100, 100], grams)
        assert found.probability == pytest.approx(below((grams / 1.03 - 2) / sigma, 4))
        assert (found.left, found.rests_on) == (2, TEST)
    assert whether_enough(KNOWN, [100, 100], 2.06).probability == pytest.approx(0.5)


def test_how_many_squares_it_suffices_for_worked_out() -> None:
    # t with 4 degrees and 0.9 is 1.533; one square of 100: 1 + 1.533 √(0.1² + 0.05²) = 1.1714
    assert whether_enough(KNOWN, [100, 100], 1.170 * 1.03).suffices_for == 0
    assert whether_enough(KNOWN, [100, 100], 1.172 * 1.03).suffices_for == 1
    # two: 2 + 1.533 √0.03 = 2.2655
    assert whether_enough(KNOWN, [100, 100], 2.265 * 1.03).suffices_for == 1
    assert whether_enough(KNOWN, [100, 100], 2.266 * 1.03).suffices_for == 2


def test_an_estimate_worked_out() -> None:
    # t with 4 degrees and 0.95 is 2.132
    about = 2.132 * 0.03**0.5
    found = estimate(KNOWN, [100, 100], 300)
    high = (2 + about) * (1 + TAILS_SHARE) * (1 + CATEGORY_MARGIN)
    assert found.grams == pytest.approx((2 - about, high), abs=1e-3)
    assert found.metres == pytest.approx(found.grams.times(3))
    assert estimate(KNOWN, [100]).metres is None
    assert estimate(KNOWN._replace(spread=0.1), [1]).grams.low == 0


@pytest.mark.parametrize("weighed", [1, 3, 10])
def test_ninety_per_cent_hold_nine_times_in_ten(weighed: int) -> None:
    """Worlds with their own yarn, hands and squares: what is promised is kept."""
    random = Random(weighed)
    kept, times = 0, 1000
    for _ in range(times):
        mean, spread = random.uniform(3, 12), random.uniform(0.05, 0.11)
        known = from_squares(
            [
                Weighed(Place(at, 1), SQUARE, round(random.gauss(mean, mean * spread), 1))
                for at in range(1, weighed + 1)
            ],
            scale=0.1,
        )
        left = random.randint(1, 40)
        used = sum(random.gauss(mean, mean * spread) for _ in range(left)) * (1 + TAILS_SHARE)
        # What is used is no more than a stock that suffices with 90 %
        kept += whether_enough(known, [SQUARE] * left, used).probability <= 0.9
    assert 0.88 <= kept / times <= 0.955


def test_the_more_squares_are_weighed_the_less_yarn_is_asked_for() -> None:
    random = Random(5)
    grams = [round(random.gauss(8, 0.6), 1) for _ in range(64)]
    widths = []
    for count in (1, 4, 16, 64):
        known = from_squares(
            [Weighed(Place(at, 1), SQUARE, each) for at, each in enumerate(grams[:count], 1)], 0.1
        )
        found = estimate(known, [SQUARE] * 100).grams
        assert found.low < 800 < found.high
        widths.append(found.high / found.low)
    assert widths == sorted(widths, reverse=True)
    guessed = estimate(from_category(CATEGORIES[3], 21), [SQUARE] * 100).grams
    assert guessed.high / guessed.low > widths[0]


@often
@given(squares, stocks, st.floats(0, 20))
def test_more_yarn_is_never_less_sure(left: list[int], grams: float, more: float) -> None:
    found, richer = whether_enough(KNOWN, left, grams), whether_enough(KNOWN, left, grams + more)
    assert found.probability <= richer.probability + 1e-12
    assert found.suffices_for <= richer.suffices_for <= richer.left == len(left)
    assert 0 <= found.probability <= 1


@often
@given(squares, stocks)
def test_it_suffices_for_all_just_when_that_is_sure(left: list[int], grams: float) -> None:
    found = whether_enough(KNOWN, left, grams)
    assert found.short == (found.probability < 0.9)
    first = left[: found.suffices_for]
    assert whether_enough(KNOWN, first, grams).probability >= 0.9
    if found.short:
        one_more = left[: found.suffices_for + 1]
        assert whether_enough(KNOWN, one_more, grams).probability < 0.9


@often
@given(squares, stocks, st.floats(0.1, 9))
def test_other_units_change_nothing(left: list[int], grams: float, factor: float) -> None:
    other = KNOWN._replace(
        mean=KNOWN.mean * factor, spread=KNOWN.spread * factor, doubt=KNOWN.doubt * factor
    )
    found, scaled = whether_enough(KNOWN, left, grams), whether_enough(other, left, grams * factor)
    assert scaled.probability == pytest.approx(found.probability)


@often
@given(squares.filter(bool))
def test_an_estimate_s_low_end_and_the_probability_agree(left: list[int]) -> None:
    low = estimate(KNOWN, left).grams.low
    if low:
        assert whether_enough(KNOWN, left, low * (1 + TAILS_SHARE)).probability == pytest.approx(
            0.05
        )
    assert t_quantile(0.05, 4) == pytest.approx(-2.132, abs=1e-3)


def test_nothing_left_to_knit() -> None:
    found = whether_enough(KNOWN, [], 0)
    assert found == Enough(1.0, 0, 0, TEST)
    assert not found.short
    assert estimate(KNOWN, []).grams == (0, 0)
