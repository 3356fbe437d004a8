"""A circle: its drives and their blankets."""

from django.contrib.auth.decorators import login_required
from django.db.models import Prefetch
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from accounts.access import member_of
from accounts.pages.signed_in import SignedInRequest
from drives.models import Blanket, Drive
from drives.pages.common.unread import unread
from drives.readings.progress import with_progress


@require_safe
@login_required
def circle_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """The drives with their blankets; when there are none, what to do first."""
    me = member_of(request.user, circle_id)
    blankets = Prefetch("blankets", with_progress(Blanket.objects.all()))
    drives = Drive.objects.filter(circle=me.circle).prefetch_related(blankets)
    facts = {
        "me": me,
        "drives": drives,
        "notes": unread(me),
        "alone": me.circle.members.present().count() == 1,
    }
    return render(request, "drives/circle/circle.html", facts)
