"""The form in which a finished blanket is described for its receiver."""

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Units
from drives import measures
from drives.actions.drives.gifts import GiftDescription
from drives.actions.squares.measurements import LONGEST
from drives.craft.fibre.care import KINDS, Care
from drives.craft.fibre.notation import fibres_code
from drives.models import Gift
from drives.words.care import HEADINGS, choices
from drives.words.fibres import fibres_line, read
from shared.forms import ActionForm, DateField

ANSWERS = [
    ("", gettext_lazy("Nobody has looked yet")),
    ("yes", gettext_lazy("Yes")),
    ("no", gettext_lazy("No")),
]
QUESTIONS = {
    "washed": gettext_lazy("Has it been washed?"),
    "holes": gettext_lazy("Has it holes that catch a finger or a tube?"),
    "fringe": gettext_lazy("Has it a fringe, bows or buttons?"),
    "smoke_free": gettext_lazy("Does it come from homes without smoke?"),
    "pet_free": gettext_lazy("Is it free from pet hair?"),
    "label": gettext_lazy("Is there a label on it?"),
}
TENTH = Decimal("0.1")


class GiftForm(ActionForm):
    """What is known of the finished blanket; all of it may be left open."""

    width = forms.DecimalField(min_value=0, max_digits=5, decimal_places=2, required=False)
    height = forms.DecimalField(min_value=0, max_digits=5, decimal_places=2, required=False)
    fibres = forms.CharField(
        label=gettext_lazy("Fibres"),
        max_length=200,
        required=False,
        help_text=gettext_lazy(
            "As on the bands: “80 % acrylic, 20 % wool”. Empty: not known. Do not guess."
        ),
    )
    given_on = DateField(label=gettext_lazy("Given on"), required=False)

    def __init__(self, sent: Any, *, gift: Gift, units: str) -> None:
        super().__init__(sent, initial=_told(gift, units))
        self.units = units
        labels = (
            {"width": _("Width in inches"), "height": _("Height in inches")}
            if units == Units.INCH
            else {"width": _("Width in cm"), "height": _("Height in cm")}
        )
        for name, label in labels.items():
            self.fields[name].label = label
        for name, kind in KINDS.items():
            self.fields[name] = forms.ChoiceField(
                label=HEADINGS[name],
                choices=[("", _("Not known")), *choices(kind)],
                required=False,
            )
        for name, question in QUESTIONS.items():
            self.fields[name] = forms.TypedChoiceField(
                label=question,
                choices=ANSWERS,
                required=False,
                coerce=lambda told: told == "yes",
                empty_value=None,
            )

    @property
    def parts(self) -> list[tuple[str, list[forms.BoundField]]]:
        """Its fields as the page groups them, each part with a heading."""
        size, care, questions = (
            [self[name] for name in names]
            for names in (("width", "height", "fibres", "given_on"), KINDS, QUESTIONS)
        )
        return [
            (_("What it is"), size),
            (_("How it is cared for"), care),
            (_("What the receiver may ask"), questions),
        ]

    def clean_width(self) -> Decimal | None:
        """In cm."""
        return self._length("width")

    def clean_height(self) -> Decimal | None:
        """In cm."""
        return self._length("height")

    def clean_fibres(self) -> str:
        """As rows keep them."""
        try:
            return fibres_code(read(self.cleaned_data["fibres"]))
        except ValueError as wrong:
            raise forms.ValidationError(str(wrong)) from None

    def description(self) -> GiftDescription:
        """What a valid form tells."""
        told = self.cleaned_data
        care = {name: kind[told[name]] for name, kind in KINDS.items() if told[name]}
        given_on: date | None = told["given_on"]
        return GiftDescription(
            width=told["width"],
            height=told["height"],
            fibres=told["fibres"],
            care=Care(**care),  # type: ignore[arg-type]
            given_on=given_on,
            **{name: told[name] for name in QUESTIONS},
        )

    def _length(self, name: str) -> Decimal | None:
        told = self.cleaned_data[name]
        if told is None:
            return None
        cm = Decimal(measures.to_cm(float(told), self.units)).quantize(TENTH)
        if not TENTH <= cm <= 2 * LONGEST:
            raise forms.ValidationError(_("That can hardly be; please look again."))
        return cm


def _told(gift: Gift, units: str) -> dict[str, Any]:
    """The gift as its form shows it."""
    sides = {"width": gift.width, "height": gift.height}
    answers = {None: "", True: "yes", False: "no"}
    return {
        **{name: side and measures.from_cm(side, units) for name, side in sides.items()},
        **{name: answers[getattr(gift, name)] for name in QUESTIONS},
        "fibres": fibres_line(read(gift.fibres)) if gift.fibres else "",
        "given_on": gift.given_on,
        **gift.care,
    }
