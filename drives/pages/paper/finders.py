"""What finders wrote, for those who look after the blanket."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import note_for
from drives.actions.paper.finders import read_note


@require_POST
@login_required
def seen_to(request: SignedInRequest, note_id: int) -> HttpResponse:
    """Somebody has seen to it; what would reach the finder is wiped."""
    note, me = note_for(request.user, note_id)
    require(me, Role.COORDINATOR)
    read_note(note=note, by=me, now=timezone.now())
    messages.success(request, _("Seen to; how to reach the finder is wiped."))
    return redirect("drives:blanket", note.code.blanket.pk)
