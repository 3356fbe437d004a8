"""The form in which a finished blanket is described for its receiver."""

from datetime import date
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.actions.drives.gifts import GiftDescription
from drives.actions.squares.measurements import LONGEST
from drives.craft.fibre.care import TREATMENTS
from drives.craft.fibre.notation import fibres_code
from drives.models import Gift
from drives.pages.common.fibre_fields import FibresField, ask_for_care, care_told
from drives.pages.common.fields import LengthField, MeasureForm
from drives.words.fibres import fibres_line, read_fibres
from shared.pages.forms import DateField, FieldGroup, YesNoField

ANSWERS = {
    None: gettext_lazy("Nobody has looked yet"),
    True: gettext_lazy("Yes"),
    False: gettext_lazy("No"),
}
QUESTIONS = {
    "washed": gettext_lazy("Has it been washed?"),
    "holes": gettext_lazy("Does it have holes that catch a finger or a tube?"),
    "fringe": gettext_lazy("Has it a fringe, bows or buttons?"),
    "smoke_free": gettext_lazy("Does it come from homes without smoke?"),
    "pet_free": gettext_lazy("Is it free from pet hair?"),
    "label": gettext_lazy("Is there a label on it?"),
}
LENGTHS = Decimal("0.1"), 2 * LONGEST  # cm


class GiftForm(MeasureForm):
    """What is known of the finished blanket; all of it may be left open."""

    width = LengthField(
        (gettext_lazy("Width in cm"), gettext_lazy("Width in inches")),
        between=LENGTHS,
        min_value=0,
        required=False,
    )
    height = LengthField(
        (gettext_lazy("Height in cm"), gettext_lazy("Height in inches")),
        between=LENGTHS,
        min_value=0,
        required=False,
    )
    fibres = FibresField(
        max_length=200,
        help_text=gettext_lazy(
            "As on the bands: “80 % acrylic, 20 % wool”. Empty: not known. Do not guess."
        ),
    )
    given_on = DateField(label=gettext_lazy("Given on"), required=False)

    def __init__(self, sent: Any, *, gift: Gift, units: str) -> None:
        super().__init__(sent, units=units, initial=_told(gift))
        ask_for_care(self, unknown=_("Not known"))
        for name, question in QUESTIONS.items():
            self.fields[name] = YesNoField(ANSWERS, label=question)

    @property
    def parts(self) -> list[FieldGroup]:
        """Its fields as the page groups them."""
        return self.grouped(
            (_("What it is"), ("width", "height", "fibres", "given_on")),
            (_("How it is cared for"), TREATMENTS),
            (_("What the receiver may ask"), QUESTIONS),
        )

    def description(self) -> GiftDescription:
        """What a valid form tells."""
        told = self.cleaned_data
        given_on: date | None = told["given_on"]
        return GiftDescription(
            width=told["width"],
            height=told["height"],
            fibres=fibres_code(told["fibres"]),
            care=care_told(told),
            given_on=given_on,
            **{name: told[name] for name in QUESTIONS},
        )


def _told(gift: Gift) -> dict[str, Any]:
    """The gift as its form shows it."""
    return {
        **{name: getattr(gift, name) for name in ("width", "height", "given_on", *QUESTIONS)},
        "fibres": fibres_line(read_fibres(gift.fibres)) if gift.fibres else "",
        **gift.care,
    }
