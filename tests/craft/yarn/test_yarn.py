"""Yarn and hours as ranges, against published weights. TRADE.md, section 5."""

import pytest

from drives.craft.layout.layout import Large, Layout, Mitre
from drives.craft.layout.plan import plan
from drives.craft.layout.rows import worked
from drives.craft.layout.sizing import CM_PER_INCH, stitches_worked
from drives.craft.numbers.ranges import Range
from drives.craft.places import Place
from drives.craft.yarn.hours import hours, measured, stated, usual_minutes
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.craft.yarn.yarn import CATEGORIES, from_category, from_weighed

METRES_PER_YARD = 0.9144
SUPER_FINE, LIGHT = 1, 3
SOCK = [(15, 2, 2), (20, 3, 4), (25, 3.75, 6), (30, 4.25, 8), (35, 5.25, 11)]
DK = [(10, 2, 2), (15, 3, 4), (20, 3.75, 8), (25, 4.5, 14), (30, 5.5, 18)]
# hunnibunnife.blogspot.com/2012/09/blanket-project-thursday-weeks-1.html
PUBLISHED = stitches_worked(plan(Layout(23, 32, 15, Mitre.CENTRED)))
PUBLISHED_GRAMS, PUBLISHED_METRES = 1282, 5450


@pytest.mark.parametrize(
    ("category", "stitches", "inches", "grams"),
    # louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023
    [
        *[(SUPER_FINE, *numbers) for numbers in SOCK],
        *[(LIGHT, *numbers) for numbers in DK],
    ],
)
def test_the_range_of_a_category_holds_published_weights(
    category: int, stitches: int, inches: float, grams: float
) -> None:
    gauge = stitches / (inches * CM_PER_INCH) * 10
    found = from_category(CATEGORIES[category], gauge, worked(stitches, Mitre.PAIRED)).grams
    # the scale shows whole grams
    assert found.low <= grams + 0.5
    assert found.high >= grams - 0.5


def test_the_range_of_a_category_holds_a_published_blanket() -> None:
    gauge = 15 / (53 / 23 * CM_PER_INCH) * 10  # 53 in across 23 squares
    found = from_category(CATEGORIES[SUPER_FINE], gauge, PUBLISHED)
    assert found.metres
    assert found.metres.low <= PUBLISHED_METRES <= found.metres.high
    assert found.grams.low <= PUBLISHED_GRAMS <= found.grams.high


def test_an_estimate_from_a_category_worked_out() -> None:
    # 1000 stitches of 5 mm take 3.7 to 5.7 widths each; then tails (3 %) and a margin (10 %)
    found = from_category(CATEGORIES[LIGHT], 20, 1000)
    assert found.metres == pytest.approx(Range(18.5, 28.5 * 1.03 * 1.10))
    assert found.grams == pytest.approx(Range(18.5 / 3.0, 28.5 * 1.03 * 1.10 / 2.4))
    assert found.rests_on == RestsOn(Evidence.CATEGORY, category=3)


def test_a_published_blanket_from_one_of_its_squares_on_a_scale() -> None:
    square = worked(15, Mitre.CENTRED)
    found = from_weighed(
        [PUBLISHED_GRAMS / 736],
        square,
        PUBLISHED,
        scale=0.1,
        metres_per_100_grams=PUBLISHED_METRES / PUBLISHED_GRAMS * 100,
    )
    assert found.grams.low < PUBLISHED_GRAMS < found.grams.high
    assert found.metres
    assert found.metres.low < PUBLISHED_METRES < found.metres.high
    assert found.rests_on == RestsOn(Evidence.SQUARES, 1)


def test_metres_follow_from_grams() -> None:
    # yarnnomads.com/blog-1/2016/5/30/another-reason-to-swatch: 50 g are 87 yd, so 4 g are 6.96 yd
    per_100_grams = 87 * METRES_PER_YARD / 50 * 100
    found = from_weighed([4], 100, 100, scale=0, metres_per_100_grams=per_100_grams)
    assert found.metres
    assert found.metres.low / METRES_PER_YARD == pytest.approx(6.96)


def test_an_estimate_from_one_square_is_as_good_as_the_scale() -> None:
    found = from_weighed([4], 100, 1000)
    assert found.grams == pytest.approx(Range(35, 45 * 1.03 * 1.10))
    assert found.metres is None
    assert found.rests_on == RestsOn(Evidence.SQUARES, 1)


def test_an_estimate_from_several_squares_knows_their_spread() -> None:
    found = from_weighed([4, 5, 6], 100, 1000, scale=0.2)  # 5 ± 0.1 ± 1
    assert found.grams == pytest.approx(Range(39, 61 * 1.03 * 1.10))
    assert found.rests_on == RestsOn(Evidence.SQUARES, 3)
    two = from_weighed([4, 6], 100, 1000, scale=0).grams  # 5 ± √2
    assert two == pytest.approx(Range(50 - 200**0.5, (50 + 200**0.5) * 1.03 * 1.10))


def test_a_swatch_serves_as_well() -> None:
    found = from_weighed([20], 1800, 5400, scale=0, evidence=Evidence.SWATCHES)
    assert found.grams.low == pytest.approx(60)
    assert found.rests_on == RestsOn(Evidence.SWATCHES, 1)


def test_no_square_weighs_less_than_nothing() -> None:
    assert from_weighed([0.3], 100, 1000).grams.low == 0


def test_published_hours() -> None:
    # abeeinthebonnet.com/blog/answering-questions-mitered-square-blanket: 273 squares at 45 min
    # are 205 h, and the ends 8.6 h more
    found = hours(plan(Layout(13, 21, 20)), Range(45, 45))
    assert found == pytest.approx(Range(205 + 8.6, 205 + 8.6), abs=0.3)


def test_a_stated_pace_may_be_a_beginner_s_or_a_practised_one() -> None:
    # emptyknitstersneverendingknitting.blogspot.com/2016/02: 45 minutes falling to 25
    assert stated(45).low == pytest.approx(33.5, abs=0.1)
    assert stated(25).high == pytest.approx(33.5, abs=0.1)
    assert stated(45).high / stated(45).low == pytest.approx(45 / 25)


def test_a_usual_pace_follows_the_stitches() -> None:
    # 841 stitches in a square of 20 (TRADE.md, section 2); 15 to 30 a minute: common practice
    assert usual_minutes(20, Mitre.PAIRED) == pytest.approx(Range(841 / 30, 841 / 15))


def test_a_measured_pace_goes_from_the_quickest_to_the_slowest() -> None:
    assert measured([38, 30, 44]) == Range(30, 44)
    assert measured([30]) == stated(30)


def test_large_squares_take_as_long_as_their_stitches() -> None:
    large = plan(Layout(2, 2, 10, large=frozenset({Large(Place(1, 1), 2)})))
    found = hours(large, Range(20, 40))
    knitting = worked(20, Mitre.PAIRED) / worked(10, Mitre.PAIRED) / 60
    ends = 8.6 / 273
    assert found == pytest.approx(Range(20 * knitting + ends, 40 * knitting + ends))
