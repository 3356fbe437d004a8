"""What is said to a knitter of a gauge that was measured."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives import measures
from drives.craft.gauge.tension import Compared, Gauge, Tension
from drives.craft.layout.sizing import side
from drives.models import Blanket
from drives.readings.gauges import Knits
from drives.words.gauge import advice_words, crooked_words, found_words, stays_words


def verdict(
    compared: Compared, blanket: Blanket, needle: float | None, gauge: Gauge | None = None
) -> list[str]:
    """How far off, what becomes of the blanket, which needle to try after this one (in mm).

    ``gauge``: as it was measured, which may be crooked.
    """
    told = [found_words(compared), stays_words(compared)]
    if compared.tension is not Tension.EVEN:
        told.insert(1, becomes(compared, blanket))
    told.append(advice_words(compared, needle))
    if needle is None and compared.tension is not Tension.EVEN:
        told.append(_("Tell which needle it was, and you are told which one to try."))
    if gauge and gauge.crooked:
        told.append(crooked_words(gauge.crooked))
    return told


def becomes(compared: Compared, blanket: Blanket) -> str:
    """The sides of a square, and of the blanket, if all were knitted so."""
    units, layout = blanket.drive.circle.units, blanket.plan().layout
    planned = Compared(compared.planned, compared.planned)
    facts = {
        "side": measures.fine(compared.side(blanket.stitches), units),
        "wanted_side": measures.fine(side(blanket.stitches, compared.planned), units),
        "size": measures.size(*compared.blanket(layout), units),
        "wanted": measures.size(*planned.blanket(layout), units),
    }
    return (
        _(
            "A square is then %(side)s wide instead of %(wanted_side)s, and the blanket %(size)s "
            "instead of %(wanted)s, if all of it is knitted so."
        )
        % facts
    )


def gauge_rests_on(known: Knits) -> str:
    """What was measured, in a few words."""
    if known.drift is None:
        return _("a swatch of %(stitches)d stitches") % {"stitches": known.newest.stitches}
    count = known.drift.squares
    return ngettext("%(count)d square", "%(count)d squares", count) % {"count": count}
