"""Fields that several forms share: measures in a circle's units, how yarn looks, whose it is."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from accounts.access import may
from accounts.models import Member, Role, Units
from drives import measures
from drives.drawing.colours import UNNAMED, look
from shared.forms import ActionForm, Text


class MeasureField(forms.DecimalField):
    """A measure as a circle tells it; cleaned, and in ``initial``, in cm or grams by ``step``.

    ``labels``: one for cm or grams, one for inches or ounces. ``between``: the least and the
    most that can be, in cm or grams.
    """

    def __init__(
        self,
        labels: tuple[Text, Text],
        *,
        between: tuple[Decimal, Decimal] | None = None,
        step: Decimal = Decimal("0.1"),
        **kwargs: Any,
    ) -> None:
        super().__init__(**kwargs)
        self.labels, self.between, self.step = labels, between, step
        self.tell_in(Units.CM)

    def tell_in(self, units: str) -> None:
        """Ask for it in these units from now on."""
        self.units = units
        self.label = self.labels[units == Units.INCH]

    def clean(self, value: Any) -> Any:
        told = super().clean(value)
        if told is None:
            return None
        measure = Decimal(self.to_metric(float(told))).quantize(self.step)
        if self.between and not self.between[0] <= measure <= self.between[1]:
            raise forms.ValidationError(gettext_lazy("That can hardly be; please look again."))
        return measure

    def prepare_value(self, value: Any) -> Any:
        return self.from_metric(value) if isinstance(value, Decimal) else value

    def to_metric(self, told: float) -> float:
        raise NotImplementedError

    def from_metric(self, measure: Decimal) -> Decimal:
        raise NotImplementedError


class LengthField(MeasureField):
    """In cm."""

    def __init__(self, labels: tuple[Text, Text], **kwargs: Any) -> None:
        super().__init__(labels, max_digits=5, decimal_places=2, **kwargs)

    def to_metric(self, told: float) -> float:
        return measures.to_cm(told, self.units)

    def from_metric(self, measure: Decimal) -> Decimal:
        return measures.from_cm(measure, self.units)


class WeightField(MeasureField):
    """In grams."""

    def to_metric(self, told: float) -> float:
        return measures.to_grams(told, self.units)

    def from_metric(self, measure: Decimal) -> Decimal:
        return measures.from_grams(measure, self.units, places=self.decimal_places or 0)


class MeasureForm(ActionForm):
    """A form whose measures are told in ``units``."""

    def __init__(self, sent: Any, *, units: str, **kwargs: Any) -> None:
        super().__init__(sent, **kwargs)
        self.units = units
        for field in self.fields.values():
            if isinstance(field, MeasureField):
                field.tell_in(units)


class LooksField(forms.RegexField):
    """How a colour looks, picked: ``#rrggbb``. A picker cannot be empty: it begins grey."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            r"^#[0-9a-fA-F]{6}$",
            label=gettext_lazy("How it looks"),
            widget=forms.TextInput(attrs={"type": "color"}),
            **kwargs,
        )

    def clean(self, value: Any) -> str:
        picked: str = super().clean(value)
        return picked.lower()


def looks(name: str, picked: str) -> str:
    """How a colour is drawn: left grey, as its name says, if it says anything."""
    return look(name) if picked == UNNAMED else picked


def ask_whose(form: ActionForm, by: Member) -> None:
    """Coordinators choose the ``member``; others speak for themselves and are not asked."""
    if may(by, Role.COORDINATOR):
        form.offer("member", by.circle.members.present())
    else:
        del form.fields["member"]
