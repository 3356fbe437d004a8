"""Ends and markers. Common practice: two ends and one marker to a square, whatever its size."""

from drives.craft.layout.finishing import ends, markers, sewn
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.places import Place


def test_counts_squares_not_units() -> None:
    even = plan(Layout(4, 3, 20))
    assert (ends(even), markers(even)) == (24, 12)
    large = plan(Layout(4, 3, 20, large=frozenset([Large(Place(1, 1), 2)])))
    assert (ends(large), markers(large)) == (18, 9)


def test_only_seams_between_two_squares_are_sewn() -> None:
    """F9 of the review: a seam beside an empty place was counted."""
    seams = frozenset(Seam(Place(2, row), Place(3, row)) for row in (1, 2, 3))
    assert sewn(Layout(4, 3, 20, seams=seams)) == 3
    assert sewn(Layout(4, 3, 20, seams=seams, missing=frozenset({Place(3, 2)}))) == 2
    gone = frozenset({Place(2, 1), Place(3, 2), Place(2, 3), Place(3, 3)})
    assert sewn(Layout(4, 3, 20, seams=seams, missing=gone)) == 0
