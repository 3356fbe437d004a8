"""Yarn for squares that keep their colour."""

from drives.craft.colour_kept import kept_short
from drives.craft.colour_reasons import Why


def test_what_suffices_is_not_told() -> None:
    needed = {"moss": 3, "rust": 3, "plum": 3}
    assert list(kept_short(needed, {"moss": 3, "rust": None})) == []


def test_what_is_short_is_told_with_its_squares() -> None:
    one, other = kept_short({"moss": 1, "rust": 5}, {"moss": 0, "rust": 3})
    assert one.detail == (
        "1 square to be knitted has moss for good: moss suffices for 0. 1 square short."
    )
    assert other.detail == (
        "5 squares to be knitted have rust for good: rust suffices for 3. 2 squares short."
    )
    assert (other.why, other.facts) == (
        Why.SHORT,
        {"colours": ["rust"], "short": 2, "wanted": 5, "enough_for": 3},
    )
