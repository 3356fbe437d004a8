"""What would help where there is no colour plan: tried out, not guessed."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.colours.plan import Coloured
from drives.drawing.colours import UNNAMED
from drives.readings.colour_plans import ColoursWanted, Draft, PaletteColour

EFFORT = 10_000  # for each try


def helps(making: Draft) -> list[str]:
    """Each change by itself with which there is a plan."""
    return [words for wanted, words in _tries(making) if _works(making, wanted)]


def _tries(making: Draft) -> list[tuple[ColoursWanted, str]]:
    wanted = making.wanted
    found = []
    if wanted.margin:
        text = _("There is a plan with no yarn kept in reserve.")
        found.append((wanted._replace(margin=0), text))
    if wanted.apart and wanted.over_seams and making.plan.layout.seams:
        text = _("There is a plan if squares with a seam between them may be alike.")
        found.append((wanted._replace(over_seams=False), text))
    if wanted.apart:
        text = _("There is a plan if squares side by side may be alike.")
        found.append((wanted._replace(apart=False), text))
    limited = [hue for hue in wanted.palette if hue.at_most is not None]
    if limited:
        text = ngettext(
            "There is a plan without the limit to the squares of a colour.",
            "There is a plan without the limits to the squares of a colour.",
            len(limited),
        )
        free = tuple(hue._replace(at_most=None) for hue in wanted.palette)
        found.append((wanted._replace(palette=free), text))
    more = (*wanted.palette, PaletteColour("+", UNNAMED, own=True))
    text = _("There is a plan with one more colour, if there is enough of it.")
    return [*found, (wanted._replace(palette=more), text)]


def _works(making: Draft, wanted: ColoursWanted) -> bool:
    asked = making.wanting(wanted)
    return not asked.lacks and isinstance(asked.answer(EFFORT), Coloured)
