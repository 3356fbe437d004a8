"""Weights and lengths as people tell them, in the units of their circle."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.access import may
from accounts.models import Member, Role, Units
from drives import measures
from drives.actions.squares.measurements import LONGEST, SHORTEST, Measured
from drives.actions.squares.weights import HEAVIEST, LIGHTEST
from drives.craft.gauge.needles import NEEDLES
from shared.forms import ActionForm

TENTH = Decimal("0.1")
NEEDLE_CHOICES = [
    ("", gettext_lazy("I do not know")),
    *((f"{each.mm:g}", each.words) for each in NEEDLES),
]


class WeighForm(ActionForm):
    """What one square weighs."""

    weight = forms.DecimalField(max_digits=6, decimal_places=2)

    def __init__(self, sent: Any, *, units: str, grams: Decimal | None = None) -> None:
        known = {} if grams is None else {"weight": measures.from_grams(grams, units)}
        super().__init__(sent, initial=known)
        self.units = units
        inches = units == Units.INCH
        self.fields["weight"].label = (
            gettext_lazy("Weight in ounces") if inches else gettext_lazy("Weight in grams")
        )

    def clean_weight(self) -> Decimal:
        """In grams."""
        grams = Decimal(measures.to_grams(float(self.cleaned_data["weight"]), self.units))
        return _within(grams.quantize(TENTH), LIGHTEST, HEAVIEST)


class SidesForm(ActionForm):
    """The two sides of a square, and the needle."""

    width = forms.DecimalField(max_digits=5, decimal_places=2)
    height = forms.DecimalField(max_digits=5, decimal_places=2)
    needle = forms.TypedChoiceField(
        label=gettext_lazy("Needle"),
        choices=NEEDLE_CHOICES,
        required=False,
        coerce=Decimal,
        empty_value=None,
    )
    labels = {
        "width": gettext_lazy("Bottom edge, %(unit)s"),
        "height": gettext_lazy("Right edge, %(unit)s"),
    }

    def __init__(self, sent: Any, *, units: str, initial: dict[str, Any] | None = None) -> None:
        super().__init__(sent, initial=initial)
        self.units = units
        unit = _("inches") if units == Units.INCH else _("cm")
        for name, label in self.labels.items():
            self.fields[name].label = str(label) % {"unit": unit}

    def clean_width(self) -> Decimal:
        """In cm."""
        return self._length("width")

    def clean_height(self) -> Decimal:
        """In cm."""
        return self._length("height")

    def _length(self, name: str) -> Decimal:
        cm = Decimal(measures.to_cm(float(self.cleaned_data[name]), self.units))
        return _within(cm.quantize(TENTH), SHORTEST, LONGEST)

    def measured(self, stitches: int, ridges: int) -> Measured:
        """What a valid form tells, of so many stitches and ridges."""
        told = self.cleaned_data
        return Measured(stitches, told["width"], ridges, told["height"], told["needle"])


class SwatchForm(SidesForm):
    """A swatch, of whom it is, and what was counted in it."""

    member = forms.ModelChoiceField(Member.objects.none(), label=gettext_lazy("Who knitted it"))
    stitches = forms.IntegerField(label=gettext_lazy("Stitches"), min_value=1, max_value=400)
    ridges = forms.IntegerField(
        label=gettext_lazy("Ridges"),
        min_value=1,
        max_value=400,
        help_text=gettext_lazy("Two rows are one ridge."),
    )
    labels = {
        "width": gettext_lazy("Their width, %(unit)s"),
        "height": gettext_lazy("Their height, %(unit)s"),
    }
    field_order = ("member", "stitches", "width", "ridges", "height", "needle")

    def __init__(self, sent: Any, *, units: str, by: Member, initial: dict[str, Any]) -> None:
        super().__init__(sent, units=units, initial={"member": by.pk} | initial)
        member = self.fields["member"]
        assert isinstance(member, forms.ModelChoiceField)
        member.empty_label = None
        if may(by, Role.COORDINATOR):
            member.queryset = by.circle.members.present()
        else:
            del self.fields["member"]


def needle_told(mm: Decimal | float | None) -> str:
    """A needle as the forms know it."""
    return "" if mm is None else f"{float(mm):g}"


def _within(value: Decimal, low: Decimal, high: Decimal) -> Decimal:
    if not low <= value <= high:
        raise forms.ValidationError(gettext_lazy("That can hardly be; please look again."))
    return value
