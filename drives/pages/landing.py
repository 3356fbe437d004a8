"""The picture on the landing page: a small blanket, half finished, drawn as any other."""

from functools import cache

from django.utils.safestring import SafeString
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from drives.craft.layout import states
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.drawing import map_svg
from drives.drawing.colours import YARNS
from drives.pages.common.svg import drawn

COLOURS = ("petrol", "sage", "mustard", "rust", "plum", "sky", "rose")
ROUNDS_DONE = 4


def landing_picture() -> SafeString:
    """Diagonal bands of colour, in the reader's language."""
    return _picture(get_language())


@cache
def _picture(_language: str) -> SafeString:
    """Diagonal bands of colour, the lower left finished and the next squares begun."""
    shown = plan(Layout(columns=6, rows=4, stitches=20))
    finished = frozenset(place for place in shown.places if shown.round[place] <= ROUNDS_DONE)
    ready = [offer.place for offer in states.offers(shown, finished=finished, taken=frozenset())]
    taken = frozenset(ready[::2])
    svg = map_svg(
        shown,
        {
            place: states.state(shown, place, finished=finished, taken=taken)
            for place in shown.places
        },
        title=_("A blanket of squares, half finished"),
        colours={
            place: YARNS[COLOURS[shown.round[place] % len(COLOURS)]] for place in shown.places
        },
        prefix="picture",
    )
    return drawn(svg)
