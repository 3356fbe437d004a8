"""Fields about what yarn, or a blanket, is made of and how it is cared for."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from drives.craft.fibre.care import TREATMENTS, Care
from drives.craft.fibre.fibres import Fibres
from drives.words.care import HEADINGS, choices
from drives.words.fibres import read_fibres
from shared.basics.text import Text


class FibresField(forms.CharField):
    """As a band tells them, cleaned to the fibres; None where nobody knows them."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(label=gettext_lazy("Fibres"), required=False, **kwargs)

    def clean(self, value: Any) -> Fibres | None:
        try:
            return read_fibres(super().clean(value))
        except ValueError as wrong:
            raise forms.ValidationError(str(wrong)) from None


def ask_for_care(form: forms.Form, *, unknown: Text) -> None:
    """A field of ``form`` for each of ``TREATMENTS``; ``unknown`` is said where it is left open."""
    for name, kind in TREATMENTS.items():
        form.fields[name] = forms.ChoiceField(
            label=HEADINGS[name], choices=[("", unknown), *choices(kind)], required=False
        )


def care_told(data: Mapping[str, Any]) -> Care:
    """What these fields tell, of a valid form's cleaned data."""
    told = {name: kind[data[name]] for name, kind in TREATMENTS.items() if data[name]}
    return Care(**told)  # type: ignore[arg-type]
