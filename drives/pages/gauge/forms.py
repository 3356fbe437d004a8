"""Weights and lengths as people tell them, in the units of their circle."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.actions.squares.measurements import LONGEST, SHORTEST, Measured
from drives.actions.squares.weights import HEAVIEST, LIGHTEST
from drives.craft.gauge.needles import NEEDLES
from drives.pages.common.fields import LengthField, MeasureForm, WeightField, ask_whose
from drives.words.gauge import needle_words
from shared.basics.text import Text


def needle_choices() -> list[tuple[str, str]]:
    """Every needle of the table, as forms know it and as the reader names it."""
    return [
        ("", _("I do not know")),
        *((needle_told(each.mm), needle_words(each)) for each in NEEDLES),
    ]


class WeighForm(MeasureForm):
    """What one square weighs."""

    weight = WeightField(
        (gettext_lazy("Weight in grams"), gettext_lazy("Weight in ounces")),
        between=(LIGHTEST, HEAVIEST),
        max_digits=6,
        decimal_places=2,
    )


def _side(cm: Text, inches: Text) -> LengthField:
    return LengthField((cm, inches), between=(SHORTEST, LONGEST))


class SidesForm(MeasureForm):
    """The two sides of a square, and the needle."""

    width = _side(gettext_lazy("Bottom edge, cm"), gettext_lazy("Bottom edge, inches"))
    height = _side(gettext_lazy("Right edge, cm"), gettext_lazy("Right edge, inches"))
    needle = forms.TypedChoiceField(
        label=gettext_lazy("Needle"),
        choices=needle_choices,
        required=False,
        coerce=Decimal,
        empty_value=None,
    )

    def measured(self, stitches: int, ridges: int) -> Measured:
        """What a valid form tells, of so many stitches and ridges."""
        told = self.cleaned_data
        return Measured(stitches, told["width"], ridges, told["height"], told["needle"])


class SwatchForm(SidesForm):
    """A swatch, of whom it is, and what was counted in it."""

    member = forms.ModelChoiceField(
        Member.objects.none(), label=gettext_lazy("Who knitted it"), empty_label=None
    )
    width = _side(gettext_lazy("Their width, cm"), gettext_lazy("Their width, inches"))
    height = _side(gettext_lazy("Their height, cm"), gettext_lazy("Their height, inches"))
    stitches = forms.IntegerField(label=gettext_lazy("Stitches"), min_value=1, max_value=400)
    ridges = forms.IntegerField(
        label=gettext_lazy("Ridges"),
        min_value=1,
        max_value=400,
        help_text=gettext_lazy("Two rows are one ridge."),
    )
    field_order = ("member", "stitches", "width", "ridges", "height", "needle")

    def __init__(self, sent: Any, *, units: str, by: Member, initial: dict[str, Any]) -> None:
        super().__init__(sent, units=units, initial={"member": by.pk} | initial)
        ask_whose(self, by)


def needle_told(mm: Decimal | float | None) -> str:
    """A needle as the forms know it."""
    return "" if mm is None else f"{float(mm):g}"
