"""The proposals for panels as their page shows them: pictures, and what each would bring."""

from dataclasses import replace
from datetime import date
from typing import NamedTuple

from django.utils.formats import number_format
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives import measures
from drives.craft.layout.layout import Seam
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.drawing import cut_svg
from drives.pages.common.svg import drawn
from drives.pages.forecast import words
from drives.pages.planning.notation import Notation
from drives.readings.board import Board
from drives.readings.foretold import Panels, Proposed
from drives.words.numbers import per_cent
from drives.words.panels import panels_named, share_line


class Way(NamedTuple):
    """One proposal; ``seams`` as the address of its confirmation has them."""

    name: str
    brings: str
    dates: str
    kept: str
    sewing: str
    hand_overs: str
    squares: float
    days: float
    unbeaten: bool
    shares: list[str]
    seams: str
    picture: SafeString


def columns(told: Panels) -> dict[str, str]:
    """What is told of each: no hand-overs where there are none."""
    found = {"panels": _("Panels"), "done": _("Done (10–90 %%)") % {}}
    if told["wanted"]:
        found["kept"] = _("Wanted day kept")
    found["sewing"] = _("To be sewn")
    if any(each["hand_overs"] for each in told["proposals"]):
        found["hand_overs"] = _("Hand-overs while knitting")
    return found | {"each": _("For each who knits"), "verdict": _("Verdict")}


def ways(told: Panels, board: Board) -> list[Way]:
    stands = told["proposals"][0]
    return [_way(each, stands, board, told["today"]) for each in told["proposals"]]


def _way(proposed: Proposed, stands: Proposed, board: Board, today: str) -> Way:
    layout, circle = board.plan.layout, board.blanket.drive.circle
    seams = frozenset(
        Seam.between(Place.parse(one), Place.parse(other)) for one, other in proposed["seams"]
    )
    notation = replace(Notation.of(layout), seams=seams).texts((layout.columns, layout.rows))
    dates = {
        "early": words.day_words(proposed["early"], today),
        "sure": words.day_words(proposed["sure"], today),
    }
    cut = plan(replace(layout, seams=layout.seams | seams))
    return Way(
        name=name(proposed),
        brings=_brings(proposed, stands, circle.units) if seams else "",
        dates=_("%(early)s – %(sure)s") % dates,
        kept="" if proposed["kept"] is None else per_cent(proposed["kept"]),
        sewing=measures.length(proposed["sewing"], circle.units),
        hand_overs=number_format(round(proposed["hand_overs"])),
        squares=proposed["squares"],
        days=proposed["days"],
        unbeaten=proposed["unbeaten"],
        shares=[share_line(share) for share in proposed["shares"] or ()] if seams else [],
        seams=notation["seams"].replace(" ", ","),
        picture=drawn(cut_svg(cut, board.finished)),
    )


def name(proposed: Proposed) -> str:
    if not proposed["seams"]:
        return _("as it is")
    return panels_named(proposed["panels"], proposed["along"], bent=proposed["bent"])


def _brings(proposed: Proposed, stands: Proposed, units: str) -> str:
    """What it gains over the blanket as it stands, and what that costs."""
    sure, before = proposed["sure"], stands["sure"]
    more = measures.length(proposed["sewing"] - stands["sewing"], units)
    if sure is None or before is None:
        return _("%(sewing)s more to sew.") % {"sewing": more}
    days = (date.fromisoformat(before) - date.fromisoformat(sure)).days
    if days > 0:
        text = ngettext(
            "%(days)d day sooner, for %(sewing)s more to sew.",
            "%(days)d days sooner, for %(sewing)s more to sew.",
            days,
        )
    elif days < 0:
        text = ngettext(
            "%(days)d day later, and %(sewing)s more to sew.",
            "%(days)d days later, and %(sewing)s more to sew.",
            -days,
        )
    else:
        text = _("No sooner, and %(sewing)s more to sew.")
    return text % {"days": abs(days), "sewing": more}
