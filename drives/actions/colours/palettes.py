"""The palette of a blanket, as actions change it."""

from collections.abc import Sequence

from drives.models import Blanket, Colour, Square
from drives.readings.colour_plans import ColoursWanted, PaletteColour, colours_wanted

from . import refusals


def colour_names(asked: ColoursWanted) -> list[str]:
    return [hue.name for hue in asked.palette]


def brought(asked: ColoursWanted, new: PaletteColour) -> ColoursWanted:
    """With yarn for one square more of a colour that is nobody’s but the bringer’s."""
    known = asked.hue(new.name)
    if known is None:
        return asked._replace(palette=(*asked.palette, new._replace(at_most=1)))
    if not known.own:
        raise refusals.colour_is_there(known.name)
    more = None if known.at_most is None else known.at_most + 1
    return _with(asked, known._replace(at_most=more))


def without_former(
    asked: ColoursWanted, squares: Sequence[Square], square: Square
) -> ColoursWanted:
    """Yarn that was brought for this square goes with its choice."""
    former = asked.hue(square.colour)
    chosen = sum(each.colour_fixed and each.colour == square.colour for each in squares)
    if not (former and former.own and square.colour_fixed and former.at_most == chosen):
        return asked
    return _with(asked, former._replace(at_most=chosen - 1))


def _with(asked: ColoursWanted, changed: PaletteColour) -> ColoursWanted:
    """The palette with one colour changed; one that may be used nowhere is left out."""
    palette = (changed if hue.name == changed.name else hue for hue in asked.palette)
    return asked._replace(palette=tuple(hue for hue in palette if hue.at_most != 0))


def note_wanted(blanket: Blanket, asked: ColoursWanted) -> bool:
    """Store what is wanted, if it is another than before."""
    if asked == colours_wanted(blanket):
        return False
    blanket.palette.all().delete()
    Colour.objects.bulk_create(
        Colour(blanket=blanket, position=position, **hue._asdict())
        for position, hue in enumerate(asked.palette, start=1)
    )
    blanket.pattern, blanket.colour_margin = asked.pattern.value, asked.margin
    blanket.apart, blanket.over_seams = asked.apart, asked.over_seams
    blanket.save(update_fields=["pattern", "colour_margin", "apart", "over_seams"])
    return True
