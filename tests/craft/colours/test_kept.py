"""Yarn for squares that keep their colour."""

from dataclasses import replace

from drives.craft.colours.kept import forgiving, kept_short
from drives.craft.colours.plan import Coloured, Impossible, colour_plan
from drives.craft.colours.reasons import Reason, Why
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place


def test_what_suffices_is_not_told() -> None:
    needed = {"moss": 3, "rust": 3, "plum": 3}
    assert list(kept_short(needed, {"moss": 3, "rust": None})) == []


def test_what_is_short_is_told_with_its_squares() -> None:
    one, other = kept_short({"moss": 1, "rust": 5}, {"moss": 0, "rust": 3})
    moss = {"colours": ["moss"], "short": 1, "wanted": 1, "enough_for": 0}
    rust = {"colours": ["rust"], "short": 2, "wanted": 5, "enough_for": 3}
    assert (one, other) == (Reason(Why.SHORT, moss), Reason(Why.SHORT, rust))


ROW = plan(Layout(4, 1, 20))
A1, B1, C1, D1 = ROW.places


def found(wish: Wish, *forgiven: Place) -> Coloured:
    answer = colour_plan(ROW, forgiving(ROW, wish, forgiven))
    assert isinstance(answer, Coloured)
    return answer


def test_what_is_forgiven_stands_against_nothing_else() -> None:
    wish = Wish(Pattern.FREE, {"moss": None, "rust": None}, kept={A1: "moss", B1: "moss"})
    assert isinstance(colour_plan(ROW, wish), Impossible)
    assert found(wish, A1, B1).colours == {C1: "rust", D1: "moss"}


def test_more_than_there_may_be_is_forgiven_but_no_more_of_it() -> None:
    colours = dict.fromkeys(("moss", "rust", "plum"))
    kept = {A1: "moss", B1: "moss"}
    wish = Wish(Pattern.FREE, colours, kept=kept, at_most={"moss": 1})
    assert isinstance(colour_plan(ROW, wish), Impossible)
    assert set(found(wish, A1, B1).colours.values()) == {"rust", "plum"}


def test_a_square_that_is_not_forgiven_still_has_to_differ() -> None:
    wish = Wish(Pattern.FREE, {"moss": None, "rust": None}, kept={A1: "moss", B1: "moss"})
    assert isinstance(colour_plan(ROW, forgiving(ROW, wish, [A1])), Impossible)
    assert forgiving(ROW, replace(wish, apart=False), [A1, B1]).kept == wish.kept
