"""What patterns look like, and in which words a colour plan is refused."""

from collections import Counter
from collections.abc import Mapping

import pytest

from drives.craft.colours.plan import Coloured, GaveUp, Impossible, colour_plan, still_possible
from drives.craft.colours.reasons import Why
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import Place
from tests.craft.brief import places

A1, B1, A2, B2, C1, D4 = places("A1", "B1", "A2", "B2", "C1", "D4")
FOUR = plan(Layout(4, 4, 20))
PLENTY: Mapping[str, int | None] = {"red": None, "blue": None, "green": None}


def coloured(planned: Plan, wish: Wish) -> Coloured:
    found = colour_plan(planned, wish)
    assert isinstance(found, Coloured), found
    return found


def drawn(planned: Plan, found: Coloured) -> list[str]:
    """Rows of initials, the topmost first."""
    layout = planned.layout
    return [
        "".join(found.colours[Place(column, row)][0] for column in range(1, layout.columns + 1))
        for row in range(layout.rows, 0, -1)
    ]


def refused(planned: Plan, wish: Wish) -> list[str]:
    found = colour_plan(planned, wish)
    assert isinstance(found, Impossible), found
    return [reason.detail for reason in found.reasons]


@pytest.mark.parametrize(
    ("pattern", "apart", "picture"),
    [
        (Pattern.BANDS, False, ["rbgr", "grbg", "bgrb", "rbgr"]),
        (Pattern.CHEQUERED, False, ["bgbr", "gbrb", "brbg", "rbgb"]),
        (Pattern.GRADIENT, False, ["bggg", "rbgg", "rrbg", "rrrb"]),
        (Pattern.GRADIENT, True, ["bgbg", "rbgb", "brbg", "rbrb"]),
    ],
)
def test_patterns_with_yarn_enough(pattern: Pattern, apart: bool, picture: list[str]) -> None:
    found = coloured(FOUR, Wish(pattern, PLENTY, apart=apart))
    assert drawn(FOUR, found) == picture
    assert found.moved == 0


def test_a_gradient_is_as_broad_as_the_store_allows() -> None:
    row = plan(Layout(12, 1, 20))
    found = coloured(row, Wish(Pattern.GRADIENT, {"red": 2, "blue": 6, "green": None}, apart=False))
    assert drawn(row, found) == ["rrbbbbbggggg"]
    assert found.moved == 0


def test_scattered_colours_come_as_often_as_their_share_and_the_same_seed_scatters_alike() -> None:
    planned = plan(Layout(12, 12, 20))
    wish = Wish(Pattern.SCATTERED, {"red": 12, "blue": None, "green": None}, apart=False, seed=4)
    found = coloured(planned, wish)
    count = Counter(found.colours.values())
    assert count["red"] <= 12
    assert abs(count["blue"] - count["green"]) < 30
    assert found == coloured(planned, wish)
    assert found != coloured(planned, Wish(wish.pattern, wish.colours, apart=False, seed=5))


def test_a_colour_that_is_short_gives_way_in_as_few_squares_as_it_must() -> None:
    found = coloured(FOUR, Wish(Pattern.BANDS, {"red": 4, "blue": None, "green": None}))
    assert Counter(found.colours.values())["red"] == 4
    assert found.moved == 2  # the bands have six squares in red


def test_a_large_square_takes_its_units_and_its_middle_tells_the_band() -> None:
    planned = plan(Layout(3, 3, 20, large=frozenset({Large(A1, 2)})))
    found = coloured(planned, Wish(Pattern.BANDS, {"red": 3, "blue": 4, "green": None}))
    assert found.colours[A1] == "blue"
    assert list(found.colours.values()).count("blue") == 1


def test_no_rule_holds_across_a_seam() -> None:
    row = plan(Layout(2, 1, 20, seams=frozenset({Seam(A1, B1)})))
    assert drawn(row, coloured(row, Wish(Pattern.BANDS, {"red": 2}))) == ["rr"]


def test_kept_squares_stay_and_are_not_in_the_answer() -> None:
    found = coloured(FOUR, Wish(Pattern.BANDS, {"red": 8, "blue": 7}, kept={A1: "blue"}))
    assert A1 not in found.colours
    assert found.colours[B1] == "red"
    assert len(found.colours) == 15


def test_kept_squares_count_for_what_may_be_used() -> None:
    wish = Wish(Pattern.BANDS, PLENTY, {"red": 2}, kept={A1: "red"})
    assert list(coloured(FOUR, wish).colours.values()).count("red") == 1


def test_a_choice_is_kept_and_the_plan_repairs_itself_around_it() -> None:
    former = coloured(FOUR, Wish(Pattern.BANDS, PLENTY)).colours
    assert still_possible(FOUR, Wish(Pattern.BANDS, PLENTY, near=former), B2) == [*PLENTY]
    found = coloured(FOUR, Wish(Pattern.BANDS, PLENTY, kept={B2: "blue"}, near=former))
    changed = {at for at, own in found.colours.items() if own != former[at]}
    assert former[B2] == "green"
    assert changed == {A1, B1, A2}  # B1 and A2 were blue; beside A1, red, nothing was left for them
    assert found.moved == 3


def test_only_what_suffices_is_still_possible() -> None:
    wish = Wish(Pattern.FREE, {"red": 8, "blue": 8, "green": 0})
    assert still_possible(FOUR, wish, B1) == ["red", "blue"]
    kept = Wish(Pattern.FREE, {"red": 8, "blue": 7, "green": 0}, kept={A1: "blue"})
    assert still_possible(FOUR, kept, B1) == ["red"]


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        (
            Wish(Pattern.BANDS, {"red": 15}, apart=False),
            ["16 squares are to be coloured: red suffices for 15. 1 square short."],
        ),
        (
            Wish(Pattern.BANDS, {"red": 5, "blue": 8}),
            [  # more of blue would not help
                "16 squares are to be coloured: as no two joined squares may be alike, blue can"
                " take at most 8 of them and red suffices for 5. 3 squares short."
            ],
        ),
        (
            Wish(Pattern.BANDS, {"red": 5, "blue": 5, "{x}": 5}),
            ["16 squares are to be coloured: the colours together suffice for 15. 1 square short."],
        ),
        (
            Wish(Pattern.BANDS, {}),
            ["16 squares are to be coloured: there are no colours. 16 squares short."],
        ),
        (
            Wish(Pattern.BANDS, {"red": None, "blue": 3, "green": 3}),
            [
                "16 squares are to be coloured: as no two joined squares may be alike, red can"
                " take at most 8 of them and blue and green suffice for 6. 2 squares short."
            ],
        ),
        (
            Wish(Pattern.BANDS, {"red": None, "blue": None}, {"blue": 7}),
            [
                "16 squares are to be coloured: as no two joined squares may be alike, red can"
                " take at most 8 of them and blue may be used for 7. 1 square short."
            ],
        ),
        (
            Wish(
                Pattern.BANDS,
                {"red": None, "blue": 2},
                apart=False,
                allowed={place: ["blue"] for place in (A1, B1, D4)},
            ),
            ["A1, B1 and D4 (3 squares) can only be blue: blue suffices for 2. 1 square short."],
        ),
        (
            Wish(Pattern.BANDS, PLENTY, kept={A1: "red", B1: "red"}),
            ["A1 and B1 are joined, and both are red."],
        ),
        (
            Wish(Pattern.BANDS, PLENTY, {"red": 1}, kept={A1: "red", B2: "red"}),
            ["At most 1 square may be red, but 2 are already: 1 too many."],
        ),
        (
            Wish(
                Pattern.BANDS,
                {"red": None, "blue": None, "green": None},
                kept={A1: "red", B2: "blue"},
                allowed={B1: {"red", "blue"}},
            ),
            [
                "No colour can be had for B1: red and blue are beside it"
                " and green is not allowed there."
            ],
        ),
    ],
)
def test_what_makes_a_plan_impossible_is_told_in_words(wish: Wish, words: list[str]) -> None:
    assert refused(FOUR, wish) == words


def test_of_a_large_square_there_must_be_enough_in_one_colour() -> None:
    planned = plan(Layout(2, 2, 20, large=frozenset({Large(A1, 2)})))
    assert refused(planned, Wish(Pattern.BANDS, {"red": 3, "blue": 3})) == [
        "No colour can be had for A1: there is too little of red and of blue."
    ]
    found = refused(planned, Wish(Pattern.BANDS, {"red": 0}))
    assert found == [
        "4 squares are to be coloured: red suffices for 0. 4 squares short."
        " A large square counts as the squares of one unit that it covers."
    ]


RING = plan(Layout(3, 3, 20, large=frozenset({Large(B2, 2)})))  # A2, A3 and B2 touch each other


@pytest.mark.parametrize(
    ("store", "help_by"),
    [
        ({"red": None, "blue": None}, "With another colour for 2 squares there is one."),
        ({"red": None, "blue": None, "green": 1}, "With 1 square more of green there is one."),
    ],
)
def test_where_counting_does_not_tell_every_way_is_tried(
    store: Mapping[str, int | None], help_by: str
) -> None:
    tried = "Every way to colour 6 squares was ruled out, one after the other."
    assert refused(RING, Wish(Pattern.FREE, store)) == [f"{tried} {help_by}"]


def test_facts_for_programs() -> None:
    found = colour_plan(FOUR, Wish(Pattern.BANDS, {"red": None, "blue": 3, "green": 3}))
    assert isinstance(found, Impossible)
    [reason] = found.reasons
    assert reason.why is Why.SHORT
    assert reason.facts == {
        "colours": ["blue", "green"],
        "short": 2,
        "places": list(FOUR.places),
        "wanted": 16,
        "enough_for": 6,
    }


def test_without_effort_it_says_that_it_gave_up() -> None:
    wish = Wish(Pattern.SCATTERED, {"red": 8, "blue": 7, "green": 1}, kept={})
    assert colour_plan(FOUR, wish, effort=1) == GaveUp()
    assert isinstance(colour_plan(FOUR, wish), Coloured)
