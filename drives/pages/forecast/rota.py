"""Who begins what by when, so that the wanted day holds."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.paper.sheets import request_sheet
from drives.models import Blanket
from drives.pages.common.waiting import asked, awaited, meanwhile
from drives.pages.forecast import rota_words
from drives.pages.forecast.asking import waiting_for
from drives.readings.board import board_of
from drives.readings.foretold import read_foretold
from drives.readings.rota import Rota
from drives.sheets.foreseen import foreseen
from drives.sheets.kinds import ROTA
from shared.pages.methods import require_methods

FIRST = 10  # squares that are told at once; the others unfold


@require_methods("GET", "POST")
@login_required
def rota_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The rota that was made last, and whether it is still true; a POST asks for a new one."""
    blanket, me = blanket_for(request.user, blanket_id)
    address, now = reverse("drives:rota", args=[blanket_id]), timezone.now()
    if request.method == "POST":
        sheet = request_sheet(kind=ROTA, blanket=blanket, by=me, options={}, now=now)
        return asked(request, waiting_for(sheet, address, address))
    there = foreseen(ROTA, blanket, {}, now)
    facts: dict[str, object] = {
        "blanket": blanket,
        "drive": blanket.drive,
        "me": me,
        "heading": _("Who begins what by when: %(blanket)s") % {"blanket": blanket},
    }
    waits_for = awaited(request, blanket, ROTA.code) or there.asked
    facts["waiting"] = waiting = waiting_for(waits_for, address, address)
    if there.made is None or "sheet" in request.GET:
        return meanwhile(request, waiting, facts)
    told: Rota = read_foretold(there.made)
    lines = rota_words.lines(told)
    facts |= {
        "sheet": there.made,
        "current": there.current,
        "told": told,
        "answer": rota_words.answer(told),
        "enough": told["enough"] and rota_words.enough(told["enough"]),
        "begins": rota_words.begins(told, me, _ready(blanket, me)),
        "begin_columns": rota_words.begin_columns(),
        "start_columns": rota_words.start_columns(),
        "first": lines[:FIRST],
        "others": lines[FIRST:],
    }
    return render(request, "drives/forecast/rota.html", facts)


def _ready(blanket: Blanket, me: Member) -> set[str]:
    """The squares that ``me`` may take for others now."""
    if not may(me, Role.COORDINATOR):
        return set()
    return {str(offer.place) for offer in board_of(blanket).offers}
