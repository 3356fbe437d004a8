"""The form that asks how much of a yarn is kept for a blanket."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives import measures
from drives.pages.common.fields import MeasureForm
from drives.pages.yarn.amounts import AmountField
from drives.readings.lots import Lot

RESERVED = gettext_lazy("Total reserved, in grams"), gettext_lazy("Total reserved, in ounces")


class ReserveForm(MeasureForm):
    """So much of one yarn; nothing frees it."""

    yarn = forms.TypedChoiceField(label=gettext_lazy("Yarn"), coerce=int)
    amount = AmountField(
        RESERVED, least=0, help_text=gettext_lazy("0 frees what was reserved before.")
    )

    def __init__(self, sent: Any, *, units: str, yarns: Iterable[tuple[int, str]]) -> None:
        super().__init__(sent, units=units, auto_id="id_reserve_%s")
        self.offer("yarn", list(yarns))


def reserve_choices(lots: Iterable[Lot], units: str) -> list[tuple[int, str]]:
    """Each yarn with what can be reserved of it for the blanket."""
    line = _("%(yarn)s: up to %(weight)s")
    return [
        (
            lot.yarn.pk,
            line
            % {
                "yarn": lot.yarn,
                "weight": measures.balance_line(lot.free + lot.reserved, units),
            },
        )
        for lot in lots
    ]
