"""Panels inside the planner: how a blanket that is not made yet could be cut, and for whom."""

from math import inf
from typing import NamedTuple
from urllib.parse import urlencode

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import number_format
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from accounts.access import require
from accounts.actions.limits import spend_by
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import drive_for
from drives.craft.forecast.panels import MOST
from drives.craft.forecast.tradeoffs import LARGEST, PLAYED, Way, cut_along, some, ways
from drives.craft.layout.finishing import sewn
from drives.craft.layout.panels import bent, strips
from drives.craft.layout.plan import Plan
from drives.craft.layout.sizing import side
from drives.drawing import cut_svg
from drives.models import Drive
from drives.pages.common.svg import drawn
from drives.pages.planning.layout_form import BlanketForm, LayoutForm, edited_data
from drives.pages.planning.needs_form import NeedsForm
from drives.pages.planning.notation import Notation
from drives.pages.planning.sketch import usable_gauge
from drives.sheets.kinds.panels import MOST_VOLUNTEERS, of_plan
from drives.words.panels import panels_named, share_line


class PeopleForm(forms.Form):
    """For how many."""

    volunteers = forms.IntegerField(
        label=gettext_lazy("People who knit"), min_value=1, max_value=MOST_VOLUNTEERS
    )


class Compared(NamedTuple):
    """One way on the page; ``take``: the planner with these seams."""

    name: str
    days: str
    sewing: str
    hand_overs: int
    shares: list[str]
    picture: SafeString
    take: str


@require_safe
@login_required
def compare_plan(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """The best ways to cut the layout that is drawn, by everybody's usual pace; nothing is kept."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    sent = request.GET.dict()
    form = LayoutForm(edited_data(sent), by=me)
    naming = BlanketForm(None, initial={"gauge": 20} | sent)
    needs = NeedsForm(sent, units=drive.circle.units)
    named = {name: naming[name].value() or "" for name in naming.fields} | needs.state
    back = f"{reverse('drives:new_blanket', args=[drive_id])}?{urlencode(form.state | named)}"
    gauge = usable_gauge(naming, drive.circle.units)
    if not form.is_valid() or form.planned is None or gauge is None:
        return redirect(back)
    here = Member.objects.present().volunteers().filter(circle=drive.circle_id).count()
    people = PeopleForm({"volunteers": sent.get("volunteers") or max(here, 1)})
    facts: dict[str, object] = {
        "drive": drive,
        "people": people,
        "state": list((form.state | named).items()),
        "back": back,
        "largest": LARGEST,
        "too_large": len(form.planned.places) > LARGEST,
    }
    if people.is_valid() and not facts["too_large"]:
        spend_by(me, "plans", timezone.now(), times=PLAYED)
        facts["columns"] = {
            "panels": _("Panels"),
            "days": _("Days of knitting"),
            "sewing": _("To be sewn"),
            "hand_overs": _("Hand-overs while knitting"),
            "shares": _("Who could get which panel"),
        }
        facts["ways"] = _compared(
            drive,
            form.planned,
            float(gauge),
            people.cleaned_data["volunteers"],
            form.state | named,
        )
    status = 422 if people.errors else 200
    return render(request, "drives/planning/panels.html", facts, status=status)


def _compared(
    drive: Drive, whole: Plan, gauge: float, volunteers: int, state: dict[str, object]
) -> list[Compared]:
    layout = whole.layout
    situation, sharing = of_plan(drive, whole, gauge, volunteers, timezone.now())
    stands, *others = ways(situation, work=PLAYED)
    unit, units = side(layout.stitches, gauge), drive.circle.units

    def compared(way: Way) -> Compared:
        cut = cut_along(whole, way.seams)
        seams = Notation.of(cut.layout).texts((layout.columns, layout.rows))["seams"]
        address = reverse("drives:new_blanket", args=[drive.pk])
        return Compared(
            name=panels_named(len(cut.pieces()), strips(cut), bent=bent(cut))
            if way.seams
            else _("as it is"),
            days="–" if way.tradeoff.days == inf else number_format(round(way.tradeoff.days)),
            sewing=measures.length(sewn(cut.layout) * unit, units),
            hand_overs=round(way.tradeoff.hand_overs),
            shares=[share_line(share) for share in sharing.of(cut) or ()],
            picture=drawn(cut_svg(cut, frozenset())),
            take=f"{address}?{urlencode(state | {'seams': seams})}" if way.seams else "",
        )

    return [compared(way) for way in (stands, *some(others, MOST))]
