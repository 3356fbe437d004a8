"""What patterns look like, and why a colour plan is refused."""

from collections import Counter
from collections.abc import Mapping

import pytest

from drives.craft.colours.plan import (
    Coloured,
    Impossible,
    SearchGaveUp,
    colour_plan,
    still_possible,
)
from drives.craft.colours.reasons import Reason, Why
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


def refused(planned: Plan, wish: Wish) -> list[Reason]:
    found = colour_plan(planned, wish)
    assert isinstance(found, Impossible), found
    return found.reasons


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


def test_squares_that_are_sewn_together_lie_side_by_side_unless_that_is_not_minded() -> None:
    """F9 of the review: across a seam two of one colour lay side by side."""
    row = plan(Layout(2, 1, 20, seams=frozenset({Seam(A1, B1)})))
    (reason,) = refused(row, Wish(Pattern.BANDS, {"red": 2}))
    assert reason.why is Why.SHORT
    assert drawn(row, coloured(row, Wish(Pattern.BANDS, {"red": 2, "blue": 1}))) == ["rb"]
    wish = Wish(Pattern.BANDS, {"red": 2}, over_seams=False)
    assert drawn(row, coloured(row, wish)) == ["rr"]
    kept = Wish(Pattern.BANDS, PLENTY, kept={A1: "red", B1: "red"})
    assert refused(row, kept) == [Reason(Why.ALIKE, {"one": A1, "other": B1, "colour": "red"})]
    gone = plan(Layout(2, 2, 20, seams=frozenset({Seam(A1, B1)}), missing=frozenset({B1})))
    assert len(coloured(gone, Wish(Pattern.FREE, PLENTY)).colours) == 3


def test_every_unit_of_a_large_square_has_its_neighbours_across_a_seam() -> None:
    seams = frozenset(Seam(Place(2, row), Place(3, row)) for row in (1, 2))
    planned = plan(Layout(3, 2, 20, large=frozenset({Large(A1, 2)}), seams=seams))
    found = coloured(planned, Wish(Pattern.FREE, {"red": 4, "blue": 1, "green": 1})).colours
    assert found[A1] == "red"
    (reason,) = refused(planned, Wish(Pattern.FREE, {"red": 5, "blue": 1}))
    assert reason.why in (Why.SHORT, Why.NO_WAY)


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


def short(**facts: object) -> dict[str, object]:
    """The facts of squares that are short, as they are where nothing special is told."""
    usual: dict[str, object] = {
        "places": list(FOUR.places),
        "wanted": 16,
        "most": {},
        "every": True,
        "large": False,
        "limited": False,
        "together": False,
    }
    return usual | facts


@pytest.mark.parametrize(
    ("wish", "why", "facts"),
    [
        (
            Wish(Pattern.BANDS, {"red": 15}, apart=False),
            Why.SHORT,
            short(colours=["red"], only=["red"], short=1, enough_for=15),
        ),
        (
            Wish(Pattern.BANDS, {"red": 5, "blue": 8}),  # more of blue would not help
            Why.SHORT,
            short(colours=["red"], only=["red", "blue"], most={"blue": 8}, short=3, enough_for=5),
        ),
        (
            Wish(Pattern.BANDS, {"red": 5, "blue": 5, "{x}": 5}),
            Why.SHORT,
            short(
                colours=["red", "blue", "{x}"],
                only=["red", "blue", "{x}"],
                short=1,
                enough_for=15,
                together=True,
            ),
        ),
        (
            Wish(Pattern.BANDS, {}),
            Why.SHORT,
            short(colours=[], only=[], short=16, enough_for=0),
        ),
        (
            Wish(Pattern.BANDS, {"red": None, "blue": 3, "green": 3}),
            Why.SHORT,
            short(
                colours=["blue", "green"],
                only=["red", "blue", "green"],
                most={"red": 8},
                short=2,
                enough_for=6,
            ),
        ),
        (
            Wish(Pattern.BANDS, {"red": None, "blue": None}, {"blue": 7}),
            Why.SHORT,
            short(
                colours=["blue"],
                only=["red", "blue"],
                most={"red": 8},
                short=1,
                enough_for=7,
                limited=True,
            ),
        ),
        (
            Wish(
                Pattern.BANDS,
                {"red": None, "blue": 2},
                apart=False,
                allowed={place: ["blue"] for place in (A1, B1, D4)},
            ),
            Why.SHORT,
            short(
                colours=["blue"],
                only=["blue"],
                places=[A1, B1, D4],
                wanted=3,
                every=False,
                short=1,
                enough_for=2,
            ),
        ),
        (
            Wish(Pattern.BANDS, PLENTY, kept={A1: "red", B1: "red"}),
            Why.ALIKE,
            {"one": A1, "other": B1, "colour": "red"},
        ),
        (
            Wish(Pattern.BANDS, PLENTY, {"red": 1}, kept={A1: "red", B2: "red"}),
            Why.TOO_MANY,
            {"colour": "red", "kept": 2, "most": 1, "over": 1},
        ),
        (
            Wish(
                Pattern.BANDS, PLENTY, kept={A1: "red", B2: "blue"}, allowed={B1: {"red", "blue"}}
            ),
            Why.NO_COLOUR,
            {"place": B1, "beside": ["red", "blue"], "barred": ["green"], "too_little": []},
        ),
    ],
)
def test_what_makes_a_plan_impossible_is_told(
    wish: Wish, why: Why, facts: dict[str, object]
) -> None:
    assert refused(FOUR, wish) == [Reason(why, facts)]


def test_of_a_large_square_there_must_be_enough_in_one_colour() -> None:
    planned = plan(Layout(2, 2, 20, large=frozenset({Large(A1, 2)})))
    (none,) = refused(planned, Wish(Pattern.BANDS, {"red": 3, "blue": 3}))
    facts = {"place": A1, "beside": [], "barred": [], "too_little": ["red", "blue"]}
    assert none == Reason(Why.NO_COLOUR, facts)
    (found,) = refused(planned, Wish(Pattern.BANDS, {"red": 0}))
    assert (found.why, found.facts["short"], found.facts["large"]) == (Why.SHORT, 4, True)


RING = plan(Layout(3, 3, 20, large=frozenset({Large(B2, 2)})))  # A2, A3 and B2 touch each other


@pytest.mark.parametrize(
    ("store", "colours", "more"),
    [
        ({"red": None, "blue": None}, [], 2),  # of another colour
        ({"red": None, "blue": None, "green": 1}, ["green"], 1),
    ],
)
def test_where_counting_does_not_tell_every_way_is_tried(
    store: Mapping[str, int | None], colours: list[str], more: int
) -> None:
    facts = {"squares": 6, "colours": colours, "short": more}
    assert refused(RING, Wish(Pattern.FREE, store)) == [Reason(Why.NO_WAY, facts)]


def test_without_effort_it_says_that_it_gave_up() -> None:
    wish = Wish(Pattern.SCATTERED, {"red": 8, "blue": 7, "green": 1}, kept={})
    assert colour_plan(FOUR, wish, effort=1) == SearchGaveUp()
    assert isinstance(colour_plan(FOUR, wish), Coloured)
