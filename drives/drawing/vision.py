"""Which colours of a palette are hard to tell apart, and for whom.

Colours as a person without one kind of cone sees them are simulated (Viénot, Brettel and Mollon
1999 for red and green, Brettel, Viénot and Mollon 1997 for blue), which is the most that a
deficiency can do; the difference is CIEDE2000. Both come from the library coloraide.
"""

from collections.abc import Mapping
from enum import StrEnum
from itertools import combinations
from typing import NamedTuple

from coloraide import Color

# Our choice. Side by side in good light a difference of about 1 is just seen. A knitter sees yarn
# by lamplight, across a blanket, and remembers it from the map on a screen; differences of 10 and
# more are commonly taken to stay clear then.
CLEAR = 10.0
# CIELAB lightness, of 100. Our choice: below it lie black, navy and the deep reds, which bleed.
DARK = 42.0


class Sight(StrEnum):
    """How people see; the values are the library's names of the deficiencies."""

    USUAL = "usual"
    PROTAN = "protan"
    DEUTAN = "deutan"
    TRITAN = "tritan"


class AlikeColours(NamedTuple):
    """Two names of a palette and by how little they differ, for each sight that takes them so."""

    one: str
    other: str
    differences: Mapping[Sight, float]

    @property
    def nearest(self) -> float:
        return min(self.differences.values())


def alike_colours(palette: Mapping[str, str], clear: float = CLEAR) -> list[AlikeColours]:
    """The pairs that differ by less than ``clear``, the nearest first.

    ``palette``: a CSS colour by name. Raises ValueError for what is no CSS colour.
    """
    seen = {sight: _seen(palette, sight) for sight in Sight}
    found = []
    for one, other in combinations(palette, 2):
        differences = {
            sight: difference
            for sight, colours in seen.items()
            if (difference := colours[one].delta_e(colours[other], method="2000")) < clear
        }
        if differences:
            found.append(AlikeColours(one, other, differences))
    return sorted(found, key=lambda pair: pair.nearest)


def dark(colour: str) -> bool:
    """Whether a CSS ``colour`` is so dark that its dye should be tried in water first."""
    return Color(colour).convert("lab-d65")["lightness"] < DARK


def _seen(palette: Mapping[str, str], sight: Sight) -> dict[str, Color]:
    colours = {name: Color(colour) for name, colour in palette.items()}
    if sight is not Sight.USUAL:
        colours = {name: colour.filter(sight.value) for name, colour in colours.items()}
    return {name: colour.convert("lab-d65") for name, colour in colours.items()}
