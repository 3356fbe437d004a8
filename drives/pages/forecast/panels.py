"""Cutting a blanket into panels: compare the ways, choose one, see what it means, cut."""

from dataclasses import replace
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.access import require
from accounts.models import Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import blanket_for
from drives.actions.drives import blankets
from drives.actions.paper.sheets import request_sheet
from drives.craft.layout.finishing import sewn
from drives.craft.layout.layout import InvalidLayout, Layout
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.sizing import side
from drives.craft.places import Place
from drives.pages.common.waiting import asked, awaited, meanwhile
from drives.pages.forecast import words
from drives.pages.forecast.asking import waiting_for
from drives.pages.forecast.panels_form import PanelsForm
from drives.pages.forecast.ways import columns, ways
from drives.pages.planning.notation import Notation, seams_in
from drives.readings.board import board_of
from drives.readings.foretold import Panels, read_foretold
from drives.sheets.foreseen import foreseen
from drives.sheets.kinds import PANELS
from shared.basics.lists import listed
from shared.pages.forms import ActionForm, posted
from shared.pages.methods import require_methods

MOST_SQUARES_TOLD = 12  # squares in a sentence


@require_methods("GET", "POST")
@login_required
def panels_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Suppose people and days; a POST asks for the ways to cut, which then stand in a table.

    Only those for the blanket as it stands: another one could not be cut so.
    """
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.ORGANISER)
    sent = request.POST if request.method == "POST" else request.GET
    supposed = {name: sent[name] for name in PanelsForm.base_fields if name in sent}
    form = PanelsForm(blanket, supposed or posted(request))
    facts: dict[str, object] = {
        "blanket": blanket,
        "drive": blanket.drive,
        "form": form,
        "heading": _("Panels for %(blanket)s") % {"blanket": blanket},
    }
    if not form.is_valid():
        status = 422 if form.errors else 200
        return render(request, "drives/forecast/panels.html", facts, status=status)
    press, now = reverse("drives:panels", args=[blanket_id]), timezone.now()
    address = f"{press}?{urlencode(supposed)}"
    if request.method == "POST":
        sheet = request_sheet(
            kind=PANELS,
            blanket=blanket,
            by=me,
            options=form.options,
            now=now,
        )
        return asked(request, waiting_for(sheet, address, press, supposed))
    there = foreseen(PANELS, blanket, form.options, now)
    waiting = waiting_for(
        awaited(request, blanket, PANELS.code) or there.asked, address, press, supposed
    )
    if there.made is None or not there.current or "sheet" in request.GET:
        return meanwhile(request, waiting, facts)
    told: Panels = read_foretold(there.made)
    facts |= {
        "told": told,
        "never": told["never"] and words.never(told["never"]),
        "ways": ways(told, board_of(blanket)),
        "unfit": any(each["shares"] is None for each in told["proposals"]),
        "columns": columns(told),
    }
    return render(request, "drives/forecast/panels.html", facts)


@require_methods("GET", "POST")
@login_required
def cut_blanket(request: SignedInRequest, blanket_id: int, seams: str) -> HttpResponse:
    """Say what cutting along these ``seams`` (``A–B,2–3``) means; a POST cuts."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.ORGANISER)
    board = board_of(blanket)
    old = board.plan
    try:
        layout = _cut_at(old.layout, seams)
        new = plan(layout)
    except (ValueError, InvalidLayout):
        raise Http404 from None
    if layout == old.layout:
        messages.info(request, _("The blanket is cut there already."))
        return redirect("drives:blanket", blanket_id)
    form = ActionForm(posted(request))
    done = form.carry_out(
        lambda: blankets.change_layout(blanket=blanket, by=me, layout=layout, now=timezone.now())
    )
    if done:
        messages.success(request, _("The blanket is cut; the seams stand on its map."))
        return redirect("drives:blanket", blanket_id)
    length = sewn(layout) * side(layout.stitches, float(blanket.gauge))
    return confirm(
        request,
        form,
        heading=_("Cut %(blanket)s into panels?") % {"blanket": blanket},
        consequences=_meaning(old, new, measures.length(length, blanket.drive.circle.units)),
        submit=_("Cut it"),
        back=reverse("drives:panels", args=[blanket_id]),
    )


def _cut_at(layout: Layout, text: str) -> Layout:
    """``layout`` with more seams; ValueError when the text is no seams of this grid."""
    seams = seams_in(text, (layout.columns, layout.rows), layout.large)
    return replace(layout, seams=layout.seams | seams)


def _meaning(old: Plan, new: Plan, sewing: str) -> list[str]:
    """What cutting changes, in sentences."""
    layout = new.layout
    seams = replace(Notation.of(layout), seams=layout.seams - old.layout.seams)
    lines = seams.texts((layout.columns, layout.rows))["seams"]
    changed = [place for place in new.places if old.foundation(place) != new.foundation(place)]
    sooner = [place for place in changed if len(new.stands_on[place]) < len(old.stands_on[place])]
    pieces = len(new.pieces())
    told = [
        _("It is cut along these lines: %(lines)s.") % {"lines": ", ".join(lines.split())},
        ngettext("It is knitted as %(count)d panel.", "It is knitted as %(count)d panels.", pieces)
        % {"count": pieces},
        _("In all, there will be %(sewing)s to sew when the panels are done.") % {"sewing": sewing},
    ]
    if sooner:
        told.append(
            _("Nothing is picked up along the seams now: %(places)s are cast on there.")
            % {"places": _some(sooner)}
        )
    told.append(_("Whatever is begun stays exactly as it is."))
    return told


def _some(places: list[Place]) -> str:
    if len(places) <= MOST_SQUARES_TOLD:
        return listed(places)
    return ngettext("%(count)d square", "%(count)d squares", len(places)) % {"count": len(places)}
