"""Ends and markers. Common practice: two ends and one marker to a square, whatever its size."""

from drives.craft.layout.finishing import ends, markers
from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place


def test_counts_squares_not_units() -> None:
    even = plan(Layout(4, 3, 20))
    assert (ends(even), markers(even)) == (24, 12)
    large = plan(Layout(4, 3, 20, large=frozenset([Large(Place(1, 1), 2)])))
    assert (ends(large), markers(large)) == (18, 9)
