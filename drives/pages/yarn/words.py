"""A yarn and the lines of its ledger in words."""

from collections.abc import Iterable, Sequence
from typing import Any

from django.db.models import Exists, OuterRef
from django.utils.translation import gettext as _

from accounts.models import Circle, Units
from drives import measures
from drives.models import Blanket, Drive, Move, Reservation, Square, StoredState, Yarn, YarnWay
from drives.pages.yarn.form import FAST
from drives.readings.checks import refusing
from drives.words.care import care_lines
from drives.words.fibres import fibres_line
from drives.words.yarn import category_words


def facts_of(yarn: Yarn) -> dict[str, Any]:
    """What is known of it; what is not is empty, but for what must not be overlooked."""
    metres = yarn.metres_per_100_grams
    units = yarn.circle.units
    return {
        "yarn": yarn,
        "category": category_words(yarn.category),
        "fibres": fibres_line(yarn.told_fibres),
        "length": metres and _length(metres, units),
        "care": care_lines(yarn.told_care),
        "fast": FAST[yarn.fast],
        "swatch": _swatch(yarn, units),
    }


def balances(yarn: Yarn) -> dict[str, Any]:
    """Of a yarn read ``with_hands``: what is in the store, in hands, and with the reader."""
    found: Any = yarn
    units = yarn.circle.units
    return {
        "stored": measures.balance_line(yarn.grams, units),
        "in_hands": found.in_hands and measures.balance_line(found.in_hands, units),
        "own": found.own and measures.balance_line(found.own, units),
    }


def kept_for(reservations: Iterable[Reservation], units: str) -> list[tuple[Blanket, str]]:
    """For which blankets some of a yarn is reserved, or to be bought, and how much."""
    return [(each.blanket, weight_words(each.grams, each.to_come, units)) for each in reservations]


def weight_words(grams: int, to_come: int, units: str) -> str:
    """What there is, and what is to be bought."""
    weight, more = (measures.balance_line(each, units) for each in (grams, to_come))
    if not to_come:
        return weight
    if not grams:
        return _("%(weight)s to be bought") % {"weight": more}
    return _("%(weight)s, and %(more)s to be bought") % {"weight": weight, "more": more}


def receivers_words(circle: Circle, yarns: Sequence[Yarn]) -> dict[str, Any]:
    """The ``drives`` that still need yarn, and which of them refuse what of it, by its id, and why.

    Two queries.
    """
    left = Square.objects.filter(blanket__drive=OuterRef("pk")).exclude(state=StoredState.FINISHED)
    planned = Blanket.objects.filter(drive=OuterRef("pk"))
    drives = Drive.objects.filter(Exists(left) | ~Exists(planned), circle=circle)
    found = list(drives.select_related("circle", "receiver"))
    return {"drives": found, "refused": refusing(found, yarns)}


def _length(metres: int, units: str) -> str:
    told = {"length": round(measures.from_metres(metres, units))}
    if units == Units.INCH:
        return _("%(length)d yards in 100 g") % told
    return _("%(length)d metres in 100 g") % told


def _swatch(yarn: Yarn, units: str) -> str:
    swatch = yarn.swatch
    if swatch is None:
        return ""
    return _("%(stitches)d stitches × %(rows)d rows weigh %(weight)s") % {
        "stitches": swatch.stitches,
        "rows": swatch.rows,
        "weight": measures.weighed(swatch.grams, units),
    }


def move_line(move: Move, units: str) -> str:
    """What moved, without who noted it and when."""
    told = {
        "weight": measures.balance_line(abs(move.held or move.grams), units),
        "name": move.member.name if move.member else "",
    }
    return _sentence(move) % told


def _sentence(move: Move) -> str:
    match move.way:
        case YarnWay.RECEIVED:
            return _("%(weight)s came in")
        case YarnWay.HANDED_OUT:
            return _("%(weight)s handed out to %(name)s")
        case YarnWay.RETURNED:
            return _("%(weight)s brought back by %(name)s")
        case YarnWay.KNITTED if move.member:
            return _("%(weight)s knitted up by %(name)s")
        case YarnWay.KNITTED:
            return _("%(weight)s knitted up, straight from the store")
    if move.member:
        more = _("counted again: %(weight)s more with %(name)s")
        return more if move.held > 0 else _("counted again: %(weight)s less with %(name)s")
    more = _("counted again: %(weight)s more in the store")
    return more if move.grams > 0 else _("counted again: %(weight)s less in the store")
