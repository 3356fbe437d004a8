"""How somebody knits: how far off, what comes of it, what to do; drift, and who knits alike."""

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from drives.craft.gauge.alike import AlikeKnitters
from drives.craft.gauge.drift import Drift
from drives.craft.gauge.needles import Needle, needle
from drives.craft.gauge.tension import TOLERANCE, Compared, Crook, Crooked, Tension

from .numbers import per_cent


def needle_words(found: Needle) -> str:
    """As knitters name it: ``4 mm (US 6, old UK 8)``."""
    facts = {"mm": number_format(f"{found.mm:g}"), "us": found.us, "uk": found.uk}
    match bool(found.us), bool(found.uk):
        case True, True:
            return _("%(mm)s mm (US %(us)s, old UK %(uk)s)") % facts
        case True, False:
            return _("%(mm)s mm (US %(us)s)") % facts
        case False, True:
            return _("%(mm)s mm (old UK %(uk)s)") % facts
        case _:
            return _("%(mm)s mm") % facts


def found_words(compared: Compared) -> str:
    """How far off the gauge is, in per cent of a side."""
    facts = {"off": per_cent(abs(compared.off)), "within": per_cent(TOLERANCE)}
    match compared.tension:
        case Tension.EVEN:
            return _("Within %(within)s this is the planned gauge.") % facts
        case Tension.TIGHT:
            told = _("Knitted so tight, squares come out %(off)s smaller than planned.")
            return told % facts
        case Tension.LOOSE:
            told = _("Knitted so loose, squares come out %(off)s larger than planned.")
            return told % facts


def stays_words(compared: Compared) -> str:
    """What becomes of the blanket if the gauge stays as it is (common practice)."""
    match compared.tension:
        case Tension.EVEN:
            return _("Such squares join flat.")
        case Tension.TIGHT:
            return _(
                "Beside the others they draw in: the blanket puckers along their joins. If all "
                "were like them, it would come out smaller and take less yarn."
            )
        case Tension.LOOSE:
            return _(
                "Beside the others they are too large: they ripple along their joins. If all "
                "were like them, the blanket would come out larger and take more yarn."
            )


def advice_words(compared: Compared, mm: float | None) -> str:
    """Which needle to try after one of ``mm``; None where nobody has told it."""
    if compared.tension is Tension.EVEN:
        return _("Keep this needle.")
    advice = _advice(compared, mm)
    if not compared.far:
        return advice
    seldom = _("So much is seldom the hand alone: is it the planned yarn, counted aright?")
    return f"{seldom} {advice}"


def _advice(compared: Compared, mm: float | None) -> str:
    larger = compared.tension is Tension.TIGHT
    if mm is None:
        return _("Try a larger needle.") if larger else _("Try a smaller needle.")
    facts = {"needle": needle_words(needle(mm))}
    tried = compared.next_needle(mm)
    if tried == needle(mm):
        if larger:
            return _("No usual needle comes nearer than %(needle)s: knit a little looser.") % facts
        return _("No usual needle comes nearer than %(needle)s: knit a little tighter.") % facts
    if tried:
        facts["tried"] = needle_words(tried)
        return _("Try %(tried)s instead of %(needle)s.") % facts
    if larger:
        return _("No usual needle is larger than %(needle)s: another yarn fits this plan.") % facts
    return _("No usual needle is smaller than %(needle)s: another yarn fits this plan.") % facts


def crooked_words(found: Crooked) -> str:
    """What is wrong with a swatch whose ridges are not as tall as its stitches are wide."""
    facts = {"share": per_cent(abs(found.share))}
    match found.crook:
        case Crook.ROWS_COUNTED:
            return _("So many ridges are hardly possible: two rows make one ridge. Count again.")
        case Crook.LONGER:
            told = _(
                "The edges with row ends come out %(share)s longer than the foundation, so no "
                "square is quite square. Measure again where the swatch lies flat."
            )
            return told % facts
        case Crook.SHORTER:
            told = _(
                "The edges with row ends come out %(share)s shorter than the foundation, so no "
                "square is quite square. Measure again where the swatch lies flat."
            )
            return told % facts


def drift_words(found: Drift) -> str:
    """Whether one knitter's squares grow or shrink."""
    facts = {
        "count": found.squares,
        "change": per_cent(abs(found.change)),
        "spread": per_cent((found.spread or 0) / found.mean),
        "least": per_cent(found.least or 0),
        "asked": per_cent(TOLERANCE),
        "needed": found.needed,
    }
    if found.spread is None:
        told = _(
            "One square is measured. "
            "A drift of %(asked)s takes at least %(needed)d squares to show."
        )
    elif found.trend is None:
        told = _(
            "%(count)d squares differ by about %(spread)s. "
            "A drift of %(asked)s takes at least %(needed)d squares to show."
        )
    elif not found.shown:
        told = _(
            "%(count)d squares differ by about %(spread)s and show no drift. "
            "One of less than %(least)s would not show yet."
        )
    elif found.change > 0:
        told = _(
            "The squares grow: the last of %(count)d is about %(change)s larger than the first."
        )
    else:
        told = _(
            "The squares shrink: the last of %(count)d is about %(change)s smaller than the first."
        )
    return told % facts


def knitters_alike(found: AlikeKnitters) -> str:
    """What follows where members knit alike."""
    if len(found.members) == 1:
        return _("Nobody else knits like this member.")
    told = _(
        "These %(count)d knit alike: their gauges are %(apart)s apart at most, so their squares "
        "join flat. Give them the same panel."
    )
    return told % {"count": len(found.members), "apart": per_cent(found.apart)}
