"""What is worked out for a page of this room, and is asked for there by one press."""

from collections.abc import Mapping
from datetime import datetime
from typing import NamedTuple

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.paper.sheets import request_sheet
from drives.models import Blanket, Sheet
from drives.pages.common.waiting import Sentences, Waiting, asked, awaited, meanwhile
from drives.sheets.foreseen import Foreseen, foreseen
from drives.sheets.kind import LookAhead

SAID = Sentences(
    making=gettext_lazy("The plan is played through again and again."),
    then=gettext_lazy("The answer shows by itself as soon as it is there."),
    failed=gettext_lazy("This could not be worked out."),
    mend=gettext_lazy("If trying again does not help, tell whoever looks after the site."),
    ask=gettext_lazy("This has not been worked out yet for the blanket as it stands now."),
    press=gettext_lazy("Work it out"),
)


def waiting_for(
    sheet: Sheet | None, address: str, press: str, sent: Mapping[str, str] | None = None
) -> Waiting:
    """``address`` is the page's own, which shows the answer; ``press`` takes what is ``sent``."""
    mark = "&" if "?" in address else "?"
    again = f"{address}{mark}sheet={sheet.pk}" if sheet else address
    return Waiting(sheet=sheet, said=SAID, again=again, done=address, press=press, sent=sent or {})


class Shown(NamedTuple):
    """What a page of a look ahead needs; ``facts`` are those of all such pages."""

    blanket: Blanket
    me: Member
    made: Sheet
    facts: dict[str, object]
    now: datetime


def shown(
    request: SignedInRequest, kind: LookAhead, page: str, blanket_id: int, heading: str
) -> HttpResponse | Shown:
    """What was made last; or, where nothing was or a POST asks for a new one, the answer to that.

    ``page``: the name of its address. ``heading`` has room for the %(blanket)s.
    """
    blanket, me = blanket_for(request.user, blanket_id)
    address, now = reverse(page, args=[blanket_id]), timezone.now()
    if request.method == "POST":
        sheet = request_sheet(kind=kind, blanket=blanket, by=me, options={}, now=now)
        return asked(request, waiting_for(sheet, address, address))
    there: Foreseen = foreseen(kind, blanket, {}, now)
    waiting = waiting_for(awaited(request, blanket, kind.code) or there.asked, address, address)
    facts: dict[str, object] = {
        "blanket": blanket,
        "drive": blanket.drive,
        "me": me,
        "heading": heading % {"blanket": blanket},
        "waiting": waiting,
    }
    if there.made is None or "sheet" in request.GET:
        return meanwhile(request, waiting, facts)
    facts |= {"sheet": there.made, "current": there.current}
    return Shown(blanket, me, there.made, facts, now)
