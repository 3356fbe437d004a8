"""Ends and markers. Common practice: two ends and one marker to a square, whatever its size."""

from drives.craft.finishing import ends, markers
from drives.craft.layout import Large, Layout
from drives.craft.places import Place
from drives.craft.plan import plan


def test_counts_squares_not_units() -> None:
    even = plan(Layout(4, 3, 20))
    assert (ends(even), markers(even)) == (24, 12)
    large = plan(Layout(4, 3, 20, large=frozenset([Large(Place(1, 1), 2)])))
    assert (ends(large), markers(large)) == (18, 9)
