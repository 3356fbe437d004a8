"""Why there is no colour plan, in a knitter's words."""

import pytest
from django.utils import translation

from drives.craft.colours.kept import kept_short
from drives.craft.colours.plan import Impossible, colour_plan
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import Plan, plan
from drives.words.colours import colours_alike, reason_words
from tests.craft.brief import places

A1, B1, A2, B2, D4 = places("A1", "B1", "A2", "B2", "D4")
FOUR = plan(Layout(4, 4, 20))
ONE_LARGE = plan(Layout(2, 2, 20, large=frozenset({Large(A1, 2)})))
RING = plan(Layout(3, 3, 20, large=frozenset({Large(B2, 2)})))  # A2, A3 and B2 touch each other
PLENTY = {"red": None, "blue": None, "green": None}


def refused(planned: Plan, wish: Wish) -> str:
    found = colour_plan(planned, wish)
    assert isinstance(found, Impossible), found
    (reason,) = found.reasons
    return reason_words(reason)


@pytest.mark.parametrize(
    ("planned", "wish", "words"),
    [
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": 15}, apart=False),
            "16 squares are to be coloured. There is enough of red for 15 squares. 1 square short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": 5, "blue": 8}),
            "16 squares are to be coloured. As no two squares side by side may be alike, "
            "blue can take at most 8 of them. There is enough of red for 5 squares. "
            "3 squares short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": 5, "blue": 5, "{x}": 5}),
            "16 squares are to be coloured. All colours together are enough for 15 squares. "
            "1 square short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {}),
            "16 squares are to be coloured. There are no colours. 16 squares short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": None, "blue": 3, "%(x)s": 3}),
            "16 squares are to be coloured. As no two squares side by side may be alike, "
            "red can take at most 8 of them. "
            "There is enough of blue and %(x)s for 6 squares. 2 squares short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": None, "blue": None}, {"blue": 7}),
            "16 squares are to be coloured. As no two squares side by side may be alike, "
            "red can take at most 8 of them. At most 7 squares may be blue. 1 square short.",
        ),
        (
            FOUR,
            Wish(
                Pattern.BANDS,
                {"red": None, "blue": 2},
                apart=False,
                allowed={place: ["blue"] for place in (A1, B1, D4)},
            ),
            "A1, B1 and D4 (3 squares) can only be blue. There is enough of blue for 2 squares. "
            "1 square short.",
        ),
        (
            FOUR,
            Wish(
                Pattern.BANDS,
                {"red": None, "blue": 2, "green": 0},
                apart=False,
                allowed={place: ["blue", "green"] for place in FOUR.places[:6]},
            ),
            "A1, B1, A2 and 3 others (6 squares) can only be blue or green. "
            "There is enough of blue and green for 2 squares. 4 squares short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, {"red": None, "blue": 0}, apart=False, allowed={A1: ["blue"]}),
            "A1 can only be blue. There is enough of blue for 0 squares. 1 square short.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, PLENTY, kept={A1: "red", B1: "red"}),
            "A1 and B1 lie side by side, and both are red.",
        ),
        (
            FOUR,
            Wish(Pattern.BANDS, PLENTY, {"red": 1}, kept={A1: "red", B2: "red"}),
            "At most 1 square may be red. 2 are already, which is 1 too many.",
        ),
        (
            FOUR,
            Wish(
                Pattern.BANDS, PLENTY, kept={A1: "red", B2: "blue"}, allowed={B1: {"red", "blue"}}
            ),
            "No colour can be had for B1. Squares beside it are red and blue. It may not be green.",
        ),
        (
            ONE_LARGE,
            Wish(Pattern.BANDS, {"red": 3, "blue": 3}),
            "No colour can be had for A1. There is too little of red and blue.",
        ),
        (
            ONE_LARGE,
            Wish(Pattern.BANDS, {"red": 0}),
            "4 squares are to be coloured. There is enough of red for 0 squares. 4 squares short. "
            "A large square counts as the squares of one unit that it covers.",
        ),
        (
            RING,
            Wish(Pattern.FREE, {"red": None, "blue": None}),
            "Every way to colour 6 squares was ruled out, one after the other. "
            "With another colour for 2 squares there is one.",
        ),
        (
            RING,
            Wish(Pattern.FREE, {"red": None, "blue": None, "green": 1}),
            "Every way to colour 6 squares was ruled out, one after the other. "
            "With 1 square more of green there is one.",
        ),
    ],
)
def test_what_makes_a_plan_impossible(planned: Plan, wish: Wish, words: str) -> None:
    assert refused(planned, wish) == words


def test_kept_squares_that_are_short_are_told_too() -> None:
    one, other = kept_short({"moss": 1, "rust": 5}, {"moss": 0, "rust": 3})
    assert reason_words(one) == (
        "1 square to be knitted has moss for good. There is enough of moss for 0 squares. "
        "1 square short."
    )
    assert reason_words(other) == (
        "5 squares to be knitted have rust for good. There is enough of rust for 3 squares. "
        "2 squares short."
    )


def test_american_spelling() -> None:
    with translation.override("en-us"):
        told = refused(FOUR, Wish(Pattern.BANDS, {"red": 15}, apart=False))
    assert told.startswith("16 squares are to be colored.")


@pytest.mark.parametrize(
    ("one", "other", "sights", "words"),
    [
        (
            "burgundy",
            "wine",
            ["usual", "protan", "deutan", "tritan"],
            "Burgundy and wine look alike to most people; give one of them a pattern.",
        ),
        (
            "red",
            "green",
            ["deutan"],
            "Red and green look alike to people who see green weakly; give one of them a pattern.",
        ),
        (
            "sea moss",
            "sky",
            ["protan", "deutan"],
            "Sea moss and sky look alike to people who see red weakly and people who see green "
            "weakly; give one of them a pattern.",
        ),
    ],
)
def test_colours_that_are_hard_to_tell_apart(
    one: str, other: str, sights: list[str], words: str
) -> None:
    assert colours_alike(one, other, sights) == words
