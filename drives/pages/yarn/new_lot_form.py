"""The form that asks which dye lot is to be bought, so that the plan places it before."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.actions.colours.new_lot import plan_new_lot
from drives.craft.yarn.lots import LotWay
from drives.models import LOT_WAYS, Blanket, Yarn
from drives.pages.common.fields import MeasureForm
from drives.pages.yarn.amounts import AmountField

TO_BUY = gettext_lazy("Amount to buy, in grams"), gettext_lazy("Amount to buy, in ounces")


class NewLotForm(MeasureForm):
    """A lot of one of the colours that the store has."""

    colour = forms.ChoiceField(label=gettext_lazy("Colour"))
    dye_lot = forms.CharField(
        label=gettext_lazy("Dye lot"),
        max_length=40,
        help_text=gettext_lazy("As on its band. Until you know it, use any name, such as “new”."),
    )
    amount = AmountField(
        TO_BUY, least=0, help_text=gettext_lazy("0 takes it out of the plan again.")
    )
    way = forms.ChoiceField(
        label=gettext_lazy("How it meets the others"),
        choices=list(LOT_WAYS.items()),
        help_text=gettext_lazy("If that is already chosen, it stays."),
    )

    def __init__(self, sent: Any, *, units: str, colours: Iterable[str]) -> None:
        super().__init__(sent, units=units, auto_id="id_new_%s")
        self.offer("colour", [(name, name) for name in colours])

    def act(self, blanket: Blanket, me: Member) -> Yarn:
        """What a valid form asks for."""
        told = self.cleaned_data
        return plan_new_lot(
            blanket=blanket,
            colour=told["colour"],
            dye_lot=" ".join(told["dye_lot"].split()),
            grams=told["amount"],
            way=LotWay(told["way"]),
            by=me,
            now=timezone.now(),
        )
