"""What an organiser supposes when comparing panels."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.models import Blanket, Mode
from drives.sheets.kinds.panels import MOST_VOLUNTEERS, MOVING, as_options
from shared.pages.forms import DateField


class PanelsForm(forms.Form):
    """For whom and until when; only travelling pieces have hand-overs.

    Where nothing is told of these, they go on as the drive’s pieces do.
    """

    wanted = DateField(label=gettext_lazy("Wanted by"), required=False)
    volunteers = forms.IntegerField(
        label=gettext_lazy("People who knit"), min_value=1, max_value=MOST_VOLUNTEERS
    )
    pace = forms.FloatField(
        label=gettext_lazy("Days for a square"),
        required=False,
        min_value=0.1,
        max_value=365,
        help_text=gettext_lazy("Leave it empty to go by everybody’s own squares."),
    )
    hand_over_days = forms.FloatField(
        label=gettext_lazy("Days for a hand-over"),
        required=False,
        min_value=0,
        max_value=60,
        help_text=gettext_lazy("Leave it empty to go by your hand-overs so far."),
    )
    meeting = DateField(
        label=gettext_lazy("The next meeting"),
        required=False,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
        help_text=gettext_lazy(
            "Pieces then change hands only when you meet. "
            "Leave it empty to go by the drive’s settings."
        ),
    )
    every = forms.IntegerField(
        label=gettext_lazy("Days from meeting to meeting"),
        required=False,
        min_value=1,
        max_value=365,
    )

    def __init__(self, blanket: Blanket, data: Any = None) -> None:
        super().__init__(data, initial=_as_now(blanket))
        self._blanket = blanket
        if blanket.drive.mode != Mode.TRAVELLING:
            for name in MOVING:
                del self.fields[name]

    @property
    def options(self) -> dict[str, Any]:
        """What was supposed, as the sheet keeps it."""
        return as_options(self._blanket, self.cleaned_data)


def _as_now(blanket: Blanket) -> dict[str, Any]:
    drive = blanket.drive
    knitters = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    return {"wanted": drive.deadline, "volunteers": max(knitters.count(), 1)}
