"""What an organiser may tell so that yarn and hours become better than a guess."""

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Units
from drives.craft.yarn.yarn import CATEGORIES
from drives.pages.common.fields import MeasureForm, YarnLengthField
from drives.words.yarn import category_choices


class NumbersField(forms.Field):
    """One number or several, as typed; ``[]`` where nothing is."""

    widget = forms.TextInput

    def to_python(self, value: Any) -> list[Decimal]:
        found = []
        for word in str(value or "").replace(";", " ").split():
            # Short enough for any square, and no other way of writing numbers.
            if not re.fullmatch(r"\d{1,4}(\.\d{1,2})?", word, re.ASCII) or not Decimal(word):
                raise forms.ValidationError(
                    gettext_lazy("Write numbers like 8 or 8.5, a space between them.")
                )
            found.append(Decimal(word))
        return found


class SwatchField(forms.Field):
    """Stitches × rows, cleaned to both; None where nothing is typed."""

    widget = forms.TextInput

    def to_python(self, value: Any) -> tuple[int, int] | None:
        if not value:
            return None
        sides = re.fullmatch(r"\s*([1-9]\d{0,3})\s*[×x*]\s*([1-9]\d{0,3})\s*", value, re.ASCII)
        if sides is None:
            raise forms.ValidationError(
                gettext_lazy("Write its stitches and its rows like 30 × 60.")
            )
        return int(sides[1]), int(sides[2])


class NeedsForm(MeasureForm):
    """Everything in it is optional; weights and lengths are in the circle's units."""

    border = forms.IntegerField(
        label=gettext_lazy("Ridges of a border"),
        required=False,
        min_value=1,
        max_value=100,
        help_text=gettext_lazy("Two rows are one ridge. Empty: no border."),
    )
    minutes = NumbersField(
        label=gettext_lazy("Minutes for one square"),
        required=False,
        help_text=gettext_lazy(
            "By the clock, for the smallest square; of several squares for example 40 45."
        ),
    )
    weights = NumbersField(label=gettext_lazy("Weight of one square"), required=False)
    swatch = SwatchField(
        label=gettext_lazy("Stitches and rows, if it is a swatch that was weighed"),
        required=False,
        help_text=gettext_lazy("For example 30 × 60."),
    )
    length = YarnLengthField(
        (gettext_lazy("Metres to 100 g"), gettext_lazy("Yards to 100 g")),
        required=False,
        min_value=20,
        max_value=3000,
        help_text=gettext_lazy("From the ball band."),
    )
    category = forms.TypedChoiceField(
        label=gettext_lazy("Category of the yarn"),
        required=False,
        coerce=int,
        empty_value=None,
        choices=lambda: [
            ("", _("not known")),
            *category_choices(each.number for each in CATEGORIES),
        ],
        help_text=gettext_lazy(
            "Its number in the Craft Yarn Council’s Standard Yarn Weight System. "
            "It serves where nothing is weighed."
        ),
    )

    def __init__(self, data: dict[str, Any], *, units: str) -> None:
        super().__init__(data, units=units)
        inches = units == Units.INCH
        self.fields["weights"].help_text = (
            gettext_lazy("In ounces, of the smallest square; of several for example 0.3 0.35.")
            if inches
            else gettext_lazy("In grams, of the smallest square; of several for example 8 8.5.")
        )

    def clean(self) -> dict[str, Any]:
        data: dict[str, Any] = self.cleaned_data
        if data.get("swatch") and not self.errors and len(data["weights"]) != 1:
            self.add_error("weights", gettext_lazy("Tell what the swatch weighs, in one number."))
        return data

    @property
    def state(self) -> dict[str, object]:
        """What a link must carry so that what is told comes back."""
        told = {name: self[name].value() for name in self.fields}
        return {name: value for name, value in told.items() if value}
