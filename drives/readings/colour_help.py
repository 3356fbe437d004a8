"""What would help where there is no colour plan: tried out, not guessed."""

from collections.abc import Iterator

from drives.craft.colours.palette import Help
from drives.craft.colours.plan import Coloured
from drives.drawing.colours import UNNAMED
from drives.words.colours import help_words

from .colour_plans import ColoursWanted, Draft, PaletteColour

EFFORT = 10_000  # for each try


def helps(making: Draft) -> dict[Help, str]:
    """Each change by itself with which there is a plan, and in words."""
    limited = len(_limited(making.wanted))
    return {
        found: help_words(found, limited)
        for wanted, found in _tries(making)
        if _works(making, wanted)
    }


def _tries(making: Draft) -> Iterator[tuple[ColoursWanted, Help]]:
    wanted = making.wanted
    if wanted.margin:
        yield wanted._replace(margin=0), Help.NO_MARGIN
    if wanted.apart and wanted.over_seams and making.plan.layout.seams:
        yield wanted._replace(over_seams=False), Help.SEAMS_ALIKE
    if wanted.apart:
        yield wanted._replace(apart=False), Help.ALIKE
    if _limited(wanted):
        free = tuple(hue._replace(at_most=None) for hue in wanted.palette)
        yield wanted._replace(palette=free), Help.NO_LIMITS
    more = (*wanted.palette, PaletteColour("+", UNNAMED, own=True))
    yield wanted._replace(palette=more), Help.ONE_MORE


def _limited(wanted: ColoursWanted) -> list[PaletteColour]:
    return [hue for hue in wanted.palette if hue.at_most is not None]


def _works(making: Draft, wanted: ColoursWanted) -> bool:
    asked = making.wanting(wanted)
    return not asked.lacks and isinstance(asked.answer(EFFORT), Coloured)
