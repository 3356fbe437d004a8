"""What becomes of each colour of a colour plan, in numbers."""

from collections.abc import Mapping
from typing import NamedTuple

from drives.craft.numbers.ranges import Range
from drives.craft.places import Place
from drives.craft.yarn import enough
from drives.drawing.colours import UNNAMED
from drives.drawing.vision import AlikeColours, alike_colours
from drives.models.square import StoredState

from .colour_plans import Draft, PaletteColour
from .looks import told_looks
from .weights import stitches


class ColourCount(NamedTuple):
    """One colour, and the ``places`` of it, of which so many are ``knitted``.

    ``needs``: grams for the squares that are not; None where nothing is known of their weight.
    ``there``: whole grams of the store for this blanket, which suffice for so many units more; None
    where the colour is not of the store.
    """

    hue: PaletteColour
    places: tuple[Place, ...]
    knitted: int
    needs: Range | None
    there: int | None
    suffices_for: int | None

    @property
    def planned(self) -> int:
        return len(self.places)

    @property
    def left(self) -> int:
        return self.planned - self.knitted


def colour_counts(making: Draft, colours: Mapping[Place, str]) -> list[ColourCount]:
    """Of every colour of the palette or of a square, if the squares have these ``colours``."""
    return [_count(making, hue, colours) for hue in shown(making, colours).values()]


def shown(making: Draft, colours: Mapping[Place, str]) -> dict[str, PaletteColour]:
    """The palette, and after it the colours that squares have besides."""
    palette = {hue.name: hue for hue in making.wanted.palette}
    besides = sorted(set(colours.values()) - palette.keys())
    store = ((name, each.yarns[0].value) for name, each in making.stocks.items())
    looks = told_looks(besides, store)
    return palette | {name: PaletteColour(name, looks.get(name, UNNAMED)) for name in besides}


def bare(making: Draft, colours: Mapping[Place, str]) -> int:
    """The squares that have no colour and are not finished."""
    return sum(
        square.place not in colours
        for square in making.squares
        if square.state != StoredState.FINISHED
    )


def hard_to_tell(making: Draft) -> list[AlikeColours]:
    """Which colours of the palette look alike, and to whom."""
    return alike_colours({hue.name: hue.value for hue in making.wanted.palette})


def _count(making: Draft, hue: PaletteColour, colours: Mapping[Place, str]) -> ColourCount:
    of_it = [square for square in making.squares if colours.get(square.place) == hue.name]
    left = [square for square in of_it if square.state != StoredState.FINISHED]
    known = making.known.get(hue.name)
    work = [stitches(making.blanket, square.size) for square in left]
    in_store = hue.name in making.grams and not hue.own
    return ColourCount(
        hue=hue,
        places=tuple(sorted(square.place for square in of_it)),
        knitted=len(of_it) - len(left),
        needs=enough.estimate(known, work).grams if known and work else None,
        there=round(making.grams[hue.name]) if in_store else None,
        suffices_for=making.rooms.get(hue.name) if in_store else None,
    )
