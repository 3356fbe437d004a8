"""The days on which the people of a drive meet."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from accounts.access import may, require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import drive_for, meeting_of
from drives.actions.circles import calendar
from shared.pages.forms import ActionForm, DateField, posted
from shared.pages.methods import require_methods


class MeetingForm(ActionForm):
    """A day on which pieces can change hands."""

    day = DateField(label=gettext_lazy("Day"))


@require_methods("GET", "POST")
@login_required
def meetings_page(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """The meetings to come; coordinators add to them."""
    drive, me = drive_for(request.user, drive_id)
    form = MeetingForm(posted(request))
    if request.method == "POST":
        require(me, Role.COORDINATOR)
    if form.carry_out(
        lambda: calendar.add_meeting(drive=drive, by=me, now=timezone.now(), **form.cleaned_data)
    ):
        messages.success(request, _("The meeting is noted."))
        return redirect("drives:meetings", drive_id)
    facts = {
        "drive": drive,
        "form": form,
        "meetings": drive.meetings.filter(day__gte=timezone.localdate()),
        "looks_after": may(me, Role.COORDINATOR),
    }
    return render(request, "drives/drive/meetings.html", facts, status=form.status)


@require_POST
@login_required
def drop_meeting(request: SignedInRequest, drive_id: int, meeting_id: int) -> HttpResponse:
    """The meeting does not take place."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.COORDINATOR)
    meeting = meeting_of(drive, meeting_id)
    calendar.drop_meeting(meeting=meeting, by=me, now=timezone.now())
    messages.success(request, _("The meeting is taken off the list."))
    return redirect("drives:meetings", drive_id)
