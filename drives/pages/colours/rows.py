"""What a page shows of a colour plan: the map, and what becomes of each colour."""

from collections.abc import Collection, Mapping
from typing import NamedTuple

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from drives import measures
from drives.craft.places import Place
from drives.drawing.colour_map import colour_map_svg
from drives.drawing.weaves import colour_sign
from drives.models import StoredState
from drives.pages.common.svg import drawn
from drives.readings.colour_counts import ColourCount, bare, colour_counts, shown
from drives.readings.colour_plans import Draft


class ColourRow(NamedTuple):
    """One colour of the plan; ``needs`` and ``there`` are weights in words, or empty."""

    name: str
    sign: SafeString
    own: bool
    planned: int
    knitted: int
    left: int
    needs: str
    there: str
    suffices_for: int | None
    places: str


def colour_rows(making: Draft, colours: Mapping[Place, str]) -> list[ColourRow]:
    """Of every colour of the palette or of a square, if the squares have these ``colours``."""
    units = making.blanket.drive.circle.units
    return [
        _row(count, number, units)
        for number, count in enumerate(colour_counts(making, colours), start=1)
    ]


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


def _row(count: ColourCount, number: int, units: str) -> ColourRow:
    return ColourRow(
        name=count.hue.name,
        sign=drawn(colour_sign(number, count.hue.value)),
        own=count.hue.own,
        planned=count.planned,
        knitted=count.knitted,
        left=count.left,
        needs=measures.weight(count.needs, units) if count.needs else "",
        there="" if count.there is None else measures.weighed(count.there, units),
        suffices_for=count.suffices_for,
        places=", ".join(map(str, count.places)),
    )


def without(making: Draft, colours: Mapping[Place, str]) -> str:
    """How many squares have no colour, in words; empty when each has one."""
    count = bare(making, colours)
    if not count or not colours:
        return ""
    return _("Without a colour: %(count)d. The next plan gives them one.") % {"count": count}
