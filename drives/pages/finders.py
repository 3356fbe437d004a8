"""What finders wrote, for those who look after the blanket."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from accounts.access import may, require
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import note_for
from drives.actions.finders import read_note
from drives.models import Blanket, Code, FinderNote


def unread(me: Member, blanket: Blanket | None = None) -> list[FinderNote]:
    """The messages about ``blanket``, or all of the circle; none for who does not look after it."""
    if not may(me, Role.COORDINATOR):
        return []
    all_codes = Code.objects.all()
    codes = all_codes.of_blanket(blanket) if blanket else all_codes.of_circle(me.circle)
    return list(FinderNote.objects.unread().of(codes))


@require_POST
@login_required
def seen_to(request: SignedInRequest, note_id: int) -> HttpResponse:
    """Somebody has seen to it; what would reach the finder is wiped."""
    note, me = note_for(request.user, note_id)
    require(me, Role.COORDINATOR)
    read_note(note=note, by=me, now=timezone.now())
    messages.success(request, _("Seen to; how to reach the finder is wiped."))
    return redirect("drives:blanket", note.code.blanket.pk)


urlpatterns = [path("notes/<int:note_id>/seen-to/", seen_to, name="seen_to")]
