"""What a page shows of a colour plan: the map, and what becomes of each colour."""

from collections.abc import Collection, Mapping
from typing import NamedTuple

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from drives import measures
from drives.craft.places import Place
from drives.craft.yarn import enough
from drives.drawing.colour_map import colour_map_svg
from drives.drawing.colours import UNNAMED
from drives.drawing.vision import alike_colours
from drives.drawing.weaves import colour_sign
from drives.models import StoredState
from drives.pages.common.svg import drawn
from drives.readings.colour_plans import Draft, PaletteColour
from drives.readings.looks import told_looks
from drives.readings.weights import stitches
from drives.words.colours import colours_alike


class ColourRow(NamedTuple):
    """One colour of the plan; ``needs`` and ``there`` are weights in words, or empty."""

    name: str
    sign: SafeString
    own: bool
    planned: int
    knitted: int
    needs: str
    there: str
    suffices_for: int | None
    places: str

    @property
    def left(self) -> int:
        return self.planned - self.knitted


def colour_rows(making: Draft, colours: Mapping[Place, str]) -> list[ColourRow]:
    """Of every colour of the palette or of a square, if the squares have these ``colours``."""
    return [
        _line(making, hue, colours, number)
        for number, hue in enumerate(shown(making, colours).values(), start=1)
    ]


def shown(making: Draft, colours: Mapping[Place, str]) -> dict[str, PaletteColour]:
    """The palette, and after it the colours that squares have besides."""
    palette = {hue.name: hue for hue in making.wanted.palette}
    besides = sorted(set(colours.values()) - palette.keys())
    store = ((name, each.yarns[0].value) for name, each in making.stocks.items())
    looks = told_looks(besides, store)
    return palette | {name: PaletteColour(name, looks.get(name, UNNAMED)) for name in besides}


def colour_map(
    making: Draft,
    colours: Mapping[Place, str],
    *,
    title: str,
    prefix: str = "colours",
    pressable: bool = False,
    marked: Collection[Place] = (),
) -> SafeString:
    """The map; where it is ``pressable``, each square leads to ``?press=`` with its place."""
    chosen = {square.place for square in making.squares if square.colour_fixed}
    finished = {square.place for square in making.squares if square.state == StoredState.FINISHED}
    svg = colour_map_svg(
        making.plan,
        colours,
        {name: hue.value for name, hue in shown(making, colours).items()},
        title=title,
        finished=finished,
        chosen=chosen - finished,
        marked=frozenset(marked),
        press=(lambda place: f"?press={place}") if pressable else None,
        prefix=prefix,
    )
    return drawn(svg)


def hard_to_tell(palette: Collection[PaletteColour]) -> list[str]:
    """Which colours look alike, and to whom."""
    return [
        colours_alike(pair.one, pair.other, pair.differences)
        for pair in alike_colours({hue.name: hue.value for hue in palette})
    ]


def _line(
    making: Draft, hue: PaletteColour, colours: Mapping[Place, str], number: int
) -> ColourRow:
    units = making.blanket.drive.circle.units
    of_it = [square for square in making.squares if colours.get(square.place) == hue.name]
    left = [square for square in of_it if square.state != StoredState.FINISHED]
    known = making.known.get(hue.name)
    work = [stitches(making.blanket, square.size) for square in left]
    needs = measures.weight(enough.estimate(known, work).grams, units) if known and work else ""
    in_store = hue.name in making.grams and not hue.own
    there = measures.weighed(round(making.grams[hue.name]), units) if in_store else ""
    return ColourRow(
        name=hue.name,
        sign=drawn(colour_sign(number, hue.value)),
        own=hue.own,
        planned=len(of_it),
        knitted=len(of_it) - len(left),
        needs=needs,
        there=there,
        suffices_for=making.rooms.get(hue.name) if in_store else None,
        places=", ".join(str(place) for place in sorted(square.place for square in of_it)),
    )


def without(making: Draft, colours: Mapping[Place, str]) -> str:
    """How many squares have no colour, in words; empty when each has one."""
    bare = sum(
        square.place not in colours
        for square in making.squares
        if square.state != StoredState.FINISHED
    )
    if not bare or not colours:
        return ""
    return _("Without a colour: %(count)d. The next plan gives them one.") % {"count": bare}
