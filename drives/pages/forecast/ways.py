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
from drives.readings.foretold import Panels, Proposed, Shared
from drives.words.numbers import per_cent
from shared.basics.lists import listed


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
    facts = {"panels": proposed["panels"]}
    match proposed["along"]:
        case "columns":
            return _("%(panels)d panels along the columns") % facts
        case "rows":
            return _("%(panels)d panels along the rows") % facts
    if not proposed["seams"]:
        return _("as it is")
    if proposed["bent"]:
        return _("%(panels)d panels, with a seam round a corner") % facts
    return _("%(panels)d panels, cut both ways") % facts


def share_line(share: Shared) -> str:
    """A panel, and whose it could be."""
    people = list(share["members"])
    if share["others"]:
        text = ngettext("%(count)d more person", "%(count)d more people", share["others"])
        people.append(text % {"count": share["others"]})
    facts = {**share, "people": listed(people)}
    if share["first"] == share["last"]:
        return _("%(first)s: %(people)s") % facts
    return _("%(first)s–%(last)s: %(people)s") % facts


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
