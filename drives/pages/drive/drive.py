"""A drive: making it, its settings, its page."""

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import model_to_dict
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from accounts.access import member_of, require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import drive_for
from drives.actions.drives.drives import change_drive, make_drive
from drives.craft.forecast.passing import Passing
from drives.models import Mode
from drives.models.drive import LONGEST_PURPOSE, PASSING
from drives.pages.common.passing import how_pieces_go_on
from drives.readings.checks import cautions_of, drive_checks
from drives.readings.progress import with_progress
from drives.words.cautions import caution_words
from shared.pages.forms import ActionForm, DateField, posted
from shared.pages.methods import require_methods


class DriveForm(ActionForm):
    """What an organiser decides about a drive."""

    name = forms.CharField(label=gettext_lazy("Name of the drive"), max_length=100)
    purpose = forms.CharField(
        label=gettext_lazy("What for"),
        required=False,
        max_length=LONGEST_PURPOSE,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("A few words for the knitters."),
    )
    recipient = forms.CharField(
        label=gettext_lazy("Who receives it"),
        max_length=200,
        required=False,
        help_text=gettext_lazy("What they can take is written down under the receiver’s rules."),
    )
    for_babies = forms.BooleanField(
        label=gettext_lazy("It is for babies"),
        required=False,
        help_text=gettext_lazy("The square cards then also say what to mind for babies."),
    )
    deadline = DateField(label=gettext_lazy("Wanted by"), required=False)
    mode = forms.ChoiceField(
        label=gettext_lazy("How you work"),
        choices=Mode.choices,
        initial=Mode.TOGETHER,
        widget=forms.RadioSelect,
    )
    claim_limit = forms.IntegerField(
        label=gettext_lazy("Squares in hand at once"),
        min_value=1,
        max_value=20,
        initial=2,
        help_text=gettext_lazy("How many squares one knitter may hold unfinished."),
    )
    claim_days = forms.IntegerField(
        label=gettext_lazy("Days for a square"), min_value=1, max_value=365, initial=14
    )
    grace_days = forms.IntegerField(
        label=gettext_lazy("Days of grace"),
        min_value=0,
        max_value=365,
        initial=7,
        help_text=gettext_lazy("So long after its date a late square becomes free by itself."),
    )
    at_once = forms.IntegerField(
        label=gettext_lazy("People at work on one piece"),
        required=False,
        min_value=1,
        max_value=50,
        help_text=gettext_lazy(
            "Empty means the usual: one where pieces travel, any number around one table."
        ),
    )
    passing = forms.ChoiceField(
        label=gettext_lazy("When a travelling piece is passed on"),
        choices=[(each.value, words) for each, words in PASSING.items()],
        initial=Passing.AFTER_EACH,
        required=False,
        help_text=gettext_lazy("The forecast tells which way is soonest."),
    )
    meet_every = forms.IntegerField(
        label=gettext_lazy("Days from meeting to meeting"),
        required=False,
        min_value=1,
        max_value=365,
        help_text=gettext_lazy(
            "For pieces that are passed on when you meet, as long as no meeting is noted. "
            "Empty means every 14 days."
        ),
    )
    hand_over_days = forms.IntegerField(
        label=gettext_lazy("Days for a hand-over"),
        min_value=0,
        max_value=60,
        initial=3,
        help_text=gettext_lazy("What you expect, until the drive’s own hand-overs tell."),
    )

    def clean_passing(self) -> str:
        """What is not told is the usual way."""
        return self.cleaned_data["passing"] or Passing.AFTER_EACH.value


@require_methods("GET", "POST")
@login_required
def new_drive(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Make a drive; next comes its first blanket."""
    me = member_of(request.user, circle_id)
    require(me, Role.ORGANISER)
    form = DriveForm(posted(request))
    done = form.carry_out(
        lambda: make_drive(circle=me.circle, by=me, now=timezone.now(), **form.cleaned_data)
    )
    if done:
        messages.success(
            request, _("%(drive)s is there. Now plan a blanket.") % {"drive": done.result}
        )
        return redirect("drives:plan", done.result.pk)
    facts = {"form": form, "circle": me.circle}
    return render(request, "drives/drive/new.html", facts, status=form.status)


@require_methods("GET", "POST")
@login_required
def drive_settings(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """Change what was decided; squares already claimed keep their dates."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    sent = posted(request)
    form = DriveForm(sent, initial=model_to_dict(drive))
    done = form.carry_out(
        lambda: change_drive(drive=drive, by=me, now=timezone.now(), **form.cleaned_data)
    )
    if done:
        messages.success(request, _("The settings are kept."))
        return redirect("drives:drive", drive_id)
    facts = {"form": form, "drive": drive}
    return render(request, "drives/drive/settings.html", facts, status=form.status)


@require_safe
@login_required
def drive_page(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """What the drive is for, its rules and its blankets."""
    drive, me = drive_for(request.user, drive_id)
    facts = {
        "drive": drive,
        "me": me,
        "blankets": with_progress(drive.blankets.all()),
        "checks": drive_checks(drive),
        "cautions": caution_words(*cautions_of(drive)),
        "passing": how_pieces_go_on(drive, timezone.localdate()),
        "next_meeting": drive.meetings.filter(day__gte=timezone.localdate()).first(),
    }
    return render(request, "drives/drive/drive.html", facts)
