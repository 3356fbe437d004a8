"""What an organiser supposes when comparing panels."""

from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.models import Blanket, Meeting, Mode
from drives.sheets.kinds.panels import MOST_VOLUNTEERS, MOVING, as_options
from shared.pages.forms import DateField


class PanelsForm(forms.Form):
    """For whom and until when; only travelling pieces have hand-overs."""

    wanted = DateField(label=gettext_lazy("Wanted by"), required=False)
    volunteers = forms.IntegerField(
        label=gettext_lazy("People who knit"), min_value=1, max_value=MOST_VOLUNTEERS
    )
    pace = forms.FloatField(
        label=gettext_lazy("Days for a square"),
        required=False,
        min_value=0.1,
        max_value=365,
        help_text=gettext_lazy("Empty: as everybody’s own squares tell."),
    )
    hand_over_days = forms.FloatField(
        label=gettext_lazy("Days for a hand-over"),
        required=False,
        min_value=0,
        max_value=60,
        help_text=gettext_lazy("Empty: as your hand-overs so far tell."),
    )
    meeting = DateField(
        label=gettext_lazy("The next meeting"),
        required=False,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
        help_text=gettext_lazy("Then pieces change hands only when you meet."),
    )
    every = forms.IntegerField(
        label=gettext_lazy("Days from meeting to meeting"),
        required=False,
        min_value=1,
        max_value=365,
    )

    def __init__(self, blanket: Blanket, today: date, data: Any = None) -> None:
        super().__init__(data, initial=usual_supposition(blanket, today))
        self._blanket = blanket
        if blanket.drive.mode != Mode.TRAVELLING:
            for name in MOVING:
                del self.fields[name]

    @property
    def options(self) -> dict[str, Any]:
        """What was supposed, as the sheet keeps it."""
        return as_options(self._blanket, self.cleaned_data)


def usual_supposition(blanket: Blanket, today: date) -> dict[str, Any]:
    """What is so now."""
    drive = blanket.drive
    knitters = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    ahead = Meeting.objects.filter(drive=drive, day__gte=today)
    days = list(ahead.values_list("day", flat=True)[:2])
    return {
        "wanted": drive.deadline,
        "volunteers": max(knitters.count(), 1),
        "meeting": days[0] if days else None,
        "every": (days[1] - days[0]).days if len(days) > 1 else None,
    }
