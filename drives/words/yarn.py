"""Yarn: its weight categories, what an estimate rests on, whether there is enough."""

from collections.abc import Iterable
from typing import Any

from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from drives.craft.yarn.enough import Enough
from drives.craft.yarn.lots import Unlike
from drives.craft.yarn.rests_on import Evidence, RestsOn
from shared.basics.lists import listed

from .numbers import per_cent

# Of the Craft Yarn Council's Standard Yarn Weight System.
CATEGORIES = {
    0: gettext_lazy("lace"),
    1: gettext_lazy("super fine"),
    2: gettext_lazy("fine"),
    3: gettext_lazy("light"),
    4: gettext_lazy("medium"),
    5: gettext_lazy("bulky"),
    6: gettext_lazy("super bulky"),
    7: gettext_lazy("jumbo"),
}


def category_words(number: int | None) -> str:
    """``4 medium``; empty where it is not known."""
    return "" if number is None else f"{number} {CATEGORIES[number]}"


def category_choices(numbers: Iterable[int] = CATEGORIES) -> list[tuple[int, str]]:
    """For a form."""
    return [(number, category_words(number)) for number in numbers]


def rests_on_words(found: RestsOn) -> str:
    """What an estimate rests on, and what was left out."""
    facts: dict[str, Any] = {"count": found.weighed, "number": found.category}
    if found.category is not None:
        facts["name"] = CATEGORIES[found.category]
    sentences = [_rests_on(found) % facts]
    if found.left_out:
        told = ngettext(
            "%(places)s weighs much more or less than the others, so it is left out. "
            "Weigh it again.",
            "%(places)s weigh much more or less than the others, so they are left out. "
            "Weigh them again.",
            len(found.left_out),
        )
        sentences.append(told % {"places": listed(found.left_out)})
    return " ".join(sentences)


def _rests_on(found: RestsOn) -> str:
    match found.evidence:
        case Evidence.BLANKET:
            return ngettext(
                "It rests on %(count)d weighed square of this blanket.",
                "It rests on %(count)d weighed squares of this blanket.",
                found.weighed,
            )
        case Evidence.SQUARES:
            return ngettext(
                "It rests on %(count)d weighed square.",
                "It rests on %(count)d weighed squares.",
                found.weighed,
            )
        case Evidence.SWATCHES:
            return ngettext(
                "It rests on %(count)d weighed swatch.",
                "It rests on %(count)d weighed swatches.",
                found.weighed,
            )
        case Evidence.CATEGORY:
            return _(
                "It rests on what is usual for category %(number)d (%(name)s) alone; "
                "one square on a scale tells more."
            )


def enough_words(colour: str, found: Enough | None) -> str:
    """The warning, or how sure it is; empty where it cannot be said."""
    if found is None:
        return ""
    # Never 0 nor 100 per cent: nothing is certain before the last stitch.
    chance = per_cent(min(max(found.probability, 0.001), 0.999))
    facts = {
        "colour": colour, "count": found.left, "chance": chance, "sure": found.suffices_for,
    }  # fmt: skip
    return capfirst(_enough(found) % facts)


def _enough(found: Enough) -> str:
    if not found.left:
        return _("No square is left to knit in %(colour)s.")
    if not found.short:
        return ngettext(
            "%(colour)s is enough for the last square with a chance of %(chance)s.",
            "%(colour)s is enough for the last %(count)d squares with a chance of %(chance)s.",
            found.left,
        )
    if not found.suffices_for:
        return ngettext(
            "%(colour)s is enough for the last square with a chance of %(chance)s: "
            "find more before it is begun.",
            "%(colour)s is enough for the last %(count)d squares with a chance of %(chance)s, "
            "and perhaps not even for the next one: find more before it is begun.",
            found.left,
        )
    if found.suffices_for == 1:
        return ngettext(
            "%(colour)s is enough for the last square with a chance of %(chance)s; "
            "only the next one is safe.",
            "%(colour)s is enough for the last %(count)d squares with a chance of %(chance)s; "
            "only the next one is safe.",
            found.left,
        )
    return ngettext(
        "%(colour)s is enough for the last square with a chance of %(chance)s; "
        "%(sure)d of them are safe.",
        "%(colour)s is enough for the last %(count)d squares with a chance of %(chance)s; "
        "%(sure)d of them are safe.",
        found.left,
    )


def lot_name(dye_lot: str) -> str:
    """What tells a yarn from others of its colour; ``dye_lot`` as on its band, or empty."""
    if not dye_lot:
        return _("Dye lot not known")
    return _("Dye lot %(lot)s") % {"lot": dye_lot}


def apart_words(lot: str, weight: str, why: Unlike | None) -> str:
    """Why a ``lot``, called so, is not counted with the others of its colour."""
    facts = {"lot": lot, "weight": weight}
    match why:
        case Unlike.THICKNESS:
            told = _("%(lot)s (%(weight)s) is of another thickness, so it is never mixed in.")
        case Unlike.FIBRES:
            told = _("%(lot)s (%(weight)s) is of other fibres, so it is never mixed in.")
        case Unlike.NOT_KNOWN:
            told = _(
                "%(lot)s (%(weight)s) is not counted: the weight category and the fibres "
                "of both must be noted first."
            )
        case None:
            told = _("%(lot)s (%(weight)s) is not counted unless you choose it here.")
    return told % facts
