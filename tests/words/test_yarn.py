"""What is said of yarn."""

import pytest

from drives.craft.places import Place
from drives.craft.yarn.enough import Enough
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.words.yarn import category_choices, category_words, enough_words, rests_on_words

SQUARES = RestsOn(Evidence.SQUARES, 6)
D1, G1 = Place(4, 1), Place(7, 1)


@pytest.mark.parametrize(
    ("told", "line"),
    [
        (Enough(1.0, 0, 0, SQUARES), "No square is left to knit in blue."),
        (
            Enough(0.997, 9, 9, SQUARES),
            "Blue is enough for the last 9 squares with a chance of more than 99 %.",
        ),
        (Enough(1.0, 1, 1, SQUARES), "Blue is enough for the last square with a chance of more"
         " than 99 %."),
        (
            Enough(0.934, 1, 1, SQUARES),
            "Blue is enough for the last square with a chance of 93 %.",
        ),
        (
            Enough(0.6, 12, 8, SQUARES),
            "Blue is enough for the last 12 squares with a chance of 60 %; 8 of them"
            " are safe.",
        ),
        (
            Enough(0.31, 2, 1, SQUARES),
            "Blue is enough for the last 2 squares with a chance of 31 %; only the next one"
            " is safe.",
        ),
        (
            Enough(0.0, 3, 0, SQUARES),
            "Blue is enough for the last 3 squares with a chance of less than 1 %, and perhaps"
            " not even for the next one: find more before it is begun.",
        ),
        (
            Enough(0.5, 1, 0, SQUARES),
            "Blue is enough for the last square with a chance of 50 %: find more before it is"
            " begun.",
        ),
    ],
)  # fmt: skip
def test_whether_there_is_enough(told: Enough, line: str) -> None:
    assert enough_words("blue", told).replace("\u00a0", " ") == line


def test_what_cannot_be_said_is_empty() -> None:
    assert enough_words("blue", None) == category_words(None) == ""


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (RestsOn(Evidence.BLANKET, 1), "It rests on 1 weighed square of this blanket."),
        (
            RestsOn(Evidence.BLANKET, 5, left_out=(D1,)),
            "It rests on 5 weighed squares of this blanket."
            " D1 weighs much more or less than the others, so it is left out. Weigh it again.",
        ),
        (
            RestsOn(Evidence.BLANKET, 5, left_out=(D1, G1)),
            "It rests on 5 weighed squares of this blanket."
            " D1 and G1 weigh much more or less than the others, so they are left out."
            " Weigh them again.",
        ),
        (RestsOn(Evidence.SQUARES, 1), "It rests on 1 weighed square."),
        (RestsOn(Evidence.SQUARES, 3), "It rests on 3 weighed squares."),
        (RestsOn(Evidence.SWATCHES, 1), "It rests on 1 weighed swatch."),
        (
            RestsOn(Evidence.CATEGORY, category=3),
            "It rests on what is usual for category 3 (light) alone;"
            " one square on a scale tells more.",
        ),
    ],
)
def test_what_an_estimate_rests_on(found: RestsOn, words: str) -> None:
    assert rests_on_words(found) == words


def test_the_categories() -> None:
    # Craft Yarn Council, Standard Yarn Weight System
    assert [words for _number, words in category_choices()] == [
        *("0 lace", "1 super fine", "2 fine", "3 light", "4 medium", "5 bulky"),
        *("6 super bulky", "7 jumbo"),
    ]
