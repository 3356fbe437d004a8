"""Panels in words: what a way to cut is called, and whose each panel could be."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.basics.lists import listed


def panels_named(panels: int, along: str | None, *, bent: bool) -> str:
    """A way to cut; ``along``: what the panels are strips of, None where they are none."""
    facts = {"panels": panels}
    match along:
        case "columns":
            return _("%(panels)d panels along the columns") % facts
        case "rows":
            return _("%(panels)d panels along the rows") % facts
    if bent:
        return _("%(panels)d panels, with a seam round a corner") % facts
    return _("%(panels)d panels, cut both ways") % facts


def share_line(share: Mapping[str, Any]) -> str:
    """A panel, and whose it could be (``drives.readings.foretold.Shared``)."""
    people = list(share["members"])
    if share["others"]:
        text = ngettext("%(count)d more person", "%(count)d more people", share["others"])
        people.append(text % {"count": share["others"]})
    facts = {**share, "people": listed(people)}
    if share["first"] == share["last"]:
        return _("%(first)s: %(people)s") % facts
    return _("%(first)s–%(last)s: %(people)s") % facts
