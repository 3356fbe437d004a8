"""The form in which the receiver's rules are written down."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Circle
from drives import measures
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.typical import TEMPLATES, ReceiverKind
from drives.models import Drive, Receiver
from drives.pages.common.fields import MeasureField
from drives.pages.rules.words import (
    ANIMAL,
    FIBRE_QUESTIONS,
    QUESTIONS,
    SIZE_QUESTIONS,
    TEMPERATURE,
    WASHING,
)
from drives.words.countries import countries
from drives.words.fibres import fibre_name
from drives.words.receivers import source_words, told_wrongly
from shared.basics.text import Text
from shared.pages.forms import ActionForm, DateField, FieldGroup, YesNoField

ANSWERS = {
    True: gettext_lazy("Yes"),
    False: gettext_lazy("No"),
    None: gettext_lazy("Not told"),
}
ASKED = ANIMAL | WASHING | QUESTIONS
LARGEST = Decimal(1000)  # cm


class SizeField(MeasureField, forms.FloatField):
    """A side that the receiver names; kept in cm."""

    def __init__(self, side: Text, units: str) -> None:
        facts = {"side": side}
        super().__init__(
            (_("%(side)s, in cm") % facts, _("%(side)s, in inches") % facts),
            min_value=1,
            max_value=measures.from_cm(LARGEST, units),
            required=False,
            widget=forms.NumberInput(attrs={"step": "any"}),
        )
        self.tell_in(units)

    def kept(self, told: float) -> float:
        return round(measures.to_cm(told, self.units), 2)

    def shown(self, measure: float) -> float:
        """To the tenth; a typical length in inches is a whole number of them again."""
        length = round(measure / measures.to_cm(1, self.units), 1)
        return int(length) if length.is_integer() else length


class RulesForm(ActionForm):
    """All the rules, and who told them; everything may be left open. Lengths as the circle says."""

    kind = forms.ChoiceField(
        choices=[("", ""), *((kind.value, kind.value) for kind in ReceiverKind)],
        required=False,
        widget=forms.HiddenInput,
    )
    temperature = forms.IntegerField(min_value=20, max_value=95, required=False)
    country = forms.ChoiceField(
        label=gettext_lazy("Country of the receiver"),
        choices=lambda: [("", _("Not told")), *countries()],
        required=False,
        help_text=gettext_lazy("What is advised for safe sleep differs by country."),
    )
    told_by = forms.CharField(
        label=gettext_lazy("Who told them"),
        max_length=100,
        required=False,
        help_text=gettext_lazy(
            "Somebody at the receiver’s, by name or by what they do there. "
            "Without them and the day the rules count as not confirmed."
        ),
    )
    told_on = DateField(label=gettext_lazy("When"), required=False)

    def __init__(self, sent: Any, *, circle: Circle, initial: dict[str, Any]) -> None:
        super().__init__(sent, initial=initial)
        sources = TEMPLATES[ReceiverKind(kind)].sources if (kind := initial.get("typical")) else {}
        for name, label in SIZE_QUESTIONS.items():
            self.fields[name] = SizeField(label, circle.units)
        self.fields["temperature"].label = _("%(question)s, in °C") % {"question": TEMPERATURE}
        for name, label in FIBRE_QUESTIONS.items():
            self.fields[name] = forms.MultipleChoiceField(
                label=label,
                choices=[(fibre.value, fibre_name(fibre)) for fibre in Fibre],
                required=False,
                widget=forms.CheckboxSelectMultiple,
            )
        for name, label in ASKED.items():
            self.fields[name] = YesNoField(ANSWERS, label=label, widget=forms.RadioSelect)
        self.fields["for_babies"].help_text = _("Not told: as the drive’s settings say.")
        for name, source in sources.items():
            told = _("Typical, to be confirmed. Source: %(source)s.")
            self.fields[name].help_text = told % {"source": source_words(source)}

    @property
    def parts(self) -> list[FieldGroup]:
        """Its fields as the page groups them."""
        return self.grouped(
            (_("Sizes"), SIZE_QUESTIONS),
            (_("Fibres"), [*FIBRE_QUESTIONS, *ANIMAL]),
            (_("Washing and drying"), [*WASHING, "temperature"]),
            (_("What else they ask"), QUESTIONS),
            (_("Who told them"), ["told_by", "told_on", "country"]),
        )

    def clean(self) -> dict[str, Any]:
        """Who told them and when go together; what no blanket could keep is said."""
        data: dict[str, Any] = self.cleaned_data
        if self.errors:
            return data
        today = timezone.localdate()
        for field, wrong in told_wrongly(self.rules(), data["told_by"], data["told_on"], today):
            self.add_error(field or None, wrong)
        return data

    def rules(self) -> Rules:
        """What the form tells, in cm."""
        data = self.cleaned_data
        told: dict[str, Any] = {
            name: data[name] for name in (*SIZE_QUESTIONS, *ASKED, "temperature")
        }
        told |= {name: frozenset(map(Fibre, data[name])) or None for name in FIBRE_QUESTIONS}
        return Rules(**told)


def initial(drive: Drive, receiver: Receiver | None, typical: str) -> dict[str, Any]:
    """The form for what is known, or for what is ``typical`` of a kind of receiver."""
    if typical:
        known = _answers(TEMPLATES[ReceiverKind(typical)].rules)
        return known | {"kind": typical, "typical": typical, "country": drive.country}
    if receiver is None:
        return _answers(Rules()) | {"country": drive.country}
    return _answers(receiver.rules) | {
        "kind": receiver.kind,
        "told_by": receiver.told_by,
        "told_on": receiver.told_on,
        "country": drive.country,
    }


def _answers(rules: Rules) -> dict[str, Any]:
    return {
        **{name: sorted(getattr(rules, name) or ()) for name in FIBRE_QUESTIONS},
        **{name: getattr(rules, name) for name in (*SIZE_QUESTIONS, *ASKED, "temperature")},
    }
