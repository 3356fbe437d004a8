"""Who begins what by when, so that the wanted day holds."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.models import Blanket
from drives.pages.forecast import rota_words
from drives.pages.forecast.asking import shown
from drives.readings.board import board_of
from drives.readings.foretold import read_foretold
from drives.readings.rota import seen_by
from drives.sheets.kinds import ROTA
from shared.pages.methods import require_methods

FIRST = 10  # squares that are told at once; the others unfold


@require_methods("GET", "POST")
@login_required
def rota_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The rota that was made last, and whether it is still true; a POST asks for a new one."""
    there = shown(
        request, ROTA, "drives:rota", blanket_id, _("Who begins what by when: %(blanket)s")
    )
    if isinstance(there, HttpResponse):
        return there
    blanket, me = there.blanket, there.me
    looks_after = may(me, Role.COORDINATOR)
    told = seen_by(
        read_foretold(there.made),
        blanket,
        timezone.localdate(there.now),
        None if looks_after else me.pk,
    )
    ready, opened = _to_plan(blanket) if looks_after else (set[str](), set[str]())
    lines = rota_words.lines(told)
    begins = rota_words.begins(told, me, ready, opened)
    facts = there.facts | {
        "told": told,
        "answer": rota_words.answer(told),
        "enough": told["enough"] and rota_words.enough(told["enough"]),
        "begin_columns": rota_words.begin_columns(),
        "start_columns": rota_words.start_columns(),
        "begins": begins,
        "to_accept": any(each.to_change and not each.accepted for each in begins),
        "to_take_back": looks_after and (told["fallen"] or any(each.accepted for each in begins)),
        "fallen": rota_words.fallen_away(told),
        "first": lines[:FIRST],
        "others": lines[FIRST:],
    }
    return render(request, "drives/forecast/rota.html", facts)


def _to_plan(blanket: Blanket) -> tuple[set[str], set[str]]:
    """The squares that can be taken now, and all that nobody has begun."""
    board = board_of(blanket)
    opened = set(board.plan.places) - board.finished - board.taken
    return {str(offer.place) for offer in board.offers}, {str(place) for place in opened}
