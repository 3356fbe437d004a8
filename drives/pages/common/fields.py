"""Fields that several forms share: measures in a circle's units, how yarn looks, whose it is."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from accounts.access import may
from accounts.models import Member, Role, Units
from drives import measures
from drives.drawing.colours import UNNAMED, look
from shared.basics.text import Text
from shared.pages.forms import ActionForm


class MeasureField(forms.Field):
    """A measure as a circle tells it; cleaned, and in ``initial``, as it is kept.

    ``labels``: one for metric units, one for the others. Each kind of measure says how it is
    ``kept`` and ``shown``, and is a field for one kind of number.
    """

    def __init__(self, labels: tuple[Text, Text], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.labels = labels
        self.tell_in(Units.CM)

    def tell_in(self, units: str) -> None:
        """Ask for it in these units from now on."""
        self.units = units
        self.label = self.labels[units == Units.INCH]

    def clean(self, value: Any) -> Any:
        told = super().clean(value)
        return None if told is None else self.kept(float(told))

    def prepare_value(self, value: Any) -> Any:
        """What was typed stands there again."""
        return value if value is None or isinstance(value, str) else self.shown(value)

    def kept(self, told: float) -> Any:
        raise NotImplementedError

    def shown(self, measure: Any) -> Any:
        raise NotImplementedError


class DecimalMeasureField(MeasureField, forms.DecimalField):
    """Kept by ``step``. ``between``: the least and the most that can be, as it is kept."""

    def __init__(
        self,
        labels: tuple[Text, Text],
        *,
        between: tuple[Decimal, Decimal] | None = None,
        step: Decimal = Decimal("0.1"),
        **kwargs: Any,
    ) -> None:
        super().__init__(labels, **kwargs)
        self.between, self.step = between, step

    def stepped(self, measure: float) -> Decimal:
        """To the next step; ValidationError where it can hardly be."""
        found = Decimal(measure).quantize(self.step)
        if self.between and not self.between[0] <= found <= self.between[1]:
            raise forms.ValidationError(gettext_lazy("That can hardly be; please look again."))
        return found


class LengthField(DecimalMeasureField):
    """Kept in cm."""

    def __init__(self, labels: tuple[Text, Text], **kwargs: Any) -> None:
        super().__init__(labels, max_digits=5, decimal_places=2, **kwargs)

    def kept(self, told: float) -> Decimal:
        return self.stepped(measures.to_cm(told, self.units))

    def shown(self, measure: Decimal) -> Decimal:
        return measures.from_cm(measure, self.units)


class WeightField(DecimalMeasureField):
    """Kept in grams."""

    def kept(self, told: float) -> Decimal:
        return self.stepped(measures.to_grams(told, self.units))

    def shown(self, measure: Decimal) -> Decimal:
        return measures.from_grams(measure, self.units, places=self.decimal_places or 0)


class YarnLengthField(MeasureField, forms.IntegerField):
    """Kept in whole metres."""

    def kept(self, told: float) -> int:
        return round(measures.to_metres(told, self.units))

    def shown(self, measure: int) -> int:
        return round(measures.from_metres(measure, self.units))


class MeasureForm(ActionForm):
    """A form whose measures are told in ``units``."""

    def __init__(self, sent: Any, *, units: str, **kwargs: Any) -> None:
        super().__init__(sent, **kwargs)
        self.units = units
        for field in self.fields.values():
            if isinstance(field, MeasureField):
                field.tell_in(units)


class GaugeField(forms.DecimalField):
    """As it is told; ``measures.to_gauge`` makes it stitches over 10 cm."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            label=gettext_lazy("Stitches over 10 cm (4 inches)"),
            min_value=Decimal(4),
            max_value=Decimal(60),
            max_digits=4,
            decimal_places=1,
            **kwargs,
        )


class LooksField(forms.RegexField):
    """How a colour looks, picked: ``#rrggbb``. A picker cannot be empty: it begins grey."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            r"^#[0-9a-fA-F]{6}\Z",
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
