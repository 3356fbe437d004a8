"""How everybody knits a blanket: one's own swatch or first square, and who knits alike."""

from typing import NamedTuple

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import blanket_for
from drives.actions.squares.measurements import measure_square
from drives.craft.gauge.needles import needle
from drives.craft.gauge.tension import Tension
from drives.pages.gauge.forms import SwatchForm, needle_told
from drives.pages.gauge.words import gauge_rests_on, verdict
from drives.readings.alike import Group, groups_alike
from drives.readings.gauges import Knits, gauge_of, knits
from drives.words.gauge import advice_words, drift_words, found_words, needle_words
from shared.pages.forms import posted
from shared.pages.methods import require_methods


class MemberGauge(NamedTuple):
    """What a coordinator reads of one member; ``side`` of a square of one unit."""

    member: Member
    rests_on: str
    needle: str
    gauge: str
    side: str
    found: str
    even: bool
    advice: str
    drift: str
    drifts: bool


@require_methods("GET", "POST")
@login_required
def gauge_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """What the reader measured and what follows; for coordinators everybody's."""
    blanket, me = blanket_for(request.user, blanket_id)
    looks_after = may(me, Role.COORDINATOR)
    known = knits(blanket)
    mine = next((each for each in known if each.member == me), None)
    units = blanket.drive.circle.units
    form = SwatchForm(
        posted(request),
        units=units,
        by=me,
        initial={"needle": needle_told(mine.needle if mine else None)},
    )
    done = form.carry_out(
        lambda: measure_square(
            blanket=blanket,
            member=form.cleaned_data.get("member", me),
            by=me,
            square=None,
            measured=form.measured(form.cleaned_data["stitches"], form.cleaned_data["ridges"]),
            now=timezone.now(),
        )
    )
    if done:
        messages.success(request, _("The swatch is noted."))
        return redirect("drives:gauge", blanket_id)
    alike = groups_alike(blanket, known)
    facts = {
        "me": me,
        "blanket": blanket,
        "whole": len(blanket.plan().pieces()) == 1,
        "drive": blanket.drive,
        "planned": measures.gauge(float(blanket.gauge), units),
        "form": form,
        "mine": mine,
        "row": mine and _row(mine, units),
        "verdict": mine and verdict(mine.compared, blanket, mine.needle, gauge_of(mine.newest)),
        "looks_after": looks_after,
        "members": [_row(each, units) for each in known] if looks_after else [],
        "groups": alike if looks_after else [],
        "like_me": mine and not looks_after and _mine(alike, mine),
    }
    return render(request, "drives/gauge/gauge.html", facts, status=form.status)


def _row(each: Knits, units: str) -> MemberGauge:
    compared, drift = each.compared, each.drift
    return MemberGauge(
        member=each.member,
        rests_on=gauge_rests_on(each),
        needle=needle_words(needle(each.needle)) if each.needle else "",
        gauge=measures.gauge(compared.measured, units),
        side=measures.fine(compared.side(each.blanket.stitches), units),
        found=found_words(compared),
        even=compared.tension is Tension.EVEN,
        advice=advice_words(compared, each.needle),
        drift=drift_words(drift) if drift and drift.squares > 1 else "",
        drifts=drift is not None and drift.shown,
    )


def _mine(alike: list[Group], mine: Knits) -> Group | None:
    """The group of the reader, if there is anybody else in it."""
    shared = (each for each in alike if len(each.names) > 1)
    return next((each for each in shared if mine.member.pk in each.alike.members), None)
