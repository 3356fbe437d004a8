"""What to buy for a blanket in words, and the form that asks how it is reckoned."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives import measures
from drives.craft.numbers.ranges import Range
from drives.models import CERTAINTIES, Yarn
from drives.models.buying import MOST_RIDGES
from drives.pages.common.fields import MeasureForm
from drives.pages.yarn.amounts import AmountField
from drives.readings.buying import Purchase, ToBuy
from drives.words.buying import buy_words, whole_grams
from drives.words.numbers import per_cent
from drives.words.yarn import lot_name
from shared.basics.lists import either

PACKAGING = (
    gettext_lazy("Box and packing, in grams"),
    gettext_lazy("Box and packing, in ounces"),
)


class BuyingForm(MeasureForm):
    """As in ``Buying``."""

    certainty = forms.TypedChoiceField(
        label=gettext_lazy("How sure you want to be that the yarn is enough"),
        coerce=int,
        choices=[(each, f"{each}\u00a0%") for each in CERTAINTIES],
    )
    border_ridges = forms.IntegerField(
        label=gettext_lazy("Ridges of a border around it"),
        min_value=0,
        max_value=MOST_RIDGES,
        help_text=gettext_lazy("In garter stitch; 0 if there is no border. A ridge is two rows."),
    )
    border_colour = forms.ChoiceField(label=gettext_lazy("The border’s colour"), required=False)
    seam_colour = forms.ChoiceField(
        label=gettext_lazy("The colour for sewing seams"), required=False
    )
    packaging = AmountField(PACKAGING, least=0)
    postage = forms.DecimalField(
        label=gettext_lazy("Postage for the parcel"),
        min_value=0,
        max_digits=8,
        decimal_places=2,
        required=False,
        help_text=gettext_lazy(
            "In the circle’s currency. Leave it empty if somebody delivers the parcel by hand."
        ),
    )

    def __init__(self, sent: Any, *, units: str, colours: Iterable[str], **kwargs: Any) -> None:
        super().__init__(sent, units=units, auto_id="id_buying_%s", **kwargs)
        choices = [("", _("Not chosen yet")), *((name, name) for name in colours)]
        self.offer("border_colour", choices)
        self.offer("seam_colour", choices)


def buying_form(found: Purchase, sent: Any = None) -> BuyingForm:
    """With the colours that the blanket has, or wishes, and those of the store."""
    wishes, circle = found.wishes, found.blanket.drive.circle
    stored = Yarn.objects.filter(circle=circle).order_by().values_list("colour", flat=True)
    names = {each.colour for each in found.supplies if each.colour} | {*stored}
    initial = {name: getattr(wishes, name) for name in BuyingForm.base_fields}
    return BuyingForm(sent, units=circle.units, colours=sorted(names), initial=initial)


def buying_facts(found: Purchase) -> dict[str, object]:
    """What a page tells of it."""
    circle = found.blanket.drive.circle
    units, currency = circle.units, circle.currency
    weighs, parcel, costs = found.weighs, found.parcel, found.costs
    return {
        "rows": [_row(each, units, currency) for each in found.colours],
        "certainty": per_cent(found.wishes.certainty / 100),
        "cost": measures.money(found.cost, currency) if found.cost else "",
        "postage": _money(found.wishes.postage, currency),
        "total": "" if found.wishes.postage is None else _money(found.total, currency),
        "weighs": weighs and measures.weight(weighs, units),
        "parcel": parcel and measures.weight(parcel, units),
        "packaging": measures.balance_line(found.wishes.packaging, units),
        "costs": costs and _between(costs, currency),
    }


def _row(each: ToBuy, units: str, currency: str) -> dict[str, object]:
    supply, short = each.supply, each.short
    if short is None:
        return {"colour": supply.colour}
    used = supply.lots.used if supply.lots else ()
    lots = [lot_name(lot.yarn.dye_lot) for lot in used if lot.grams]
    missing, anew = (
        measures.balance_line(whole_grams(grams), units) for grams in (short.grams, short.anew)
    )
    return {
        "colour": supply.colour,
        "needs": anew,
        "there": measures.balance_line(int(supply.grams), units),
        "short": short.grams > 0,
        "line": buy_words(short, missing, anew, either(lots)),
        "planned": [
            _("%(lot)s: %(weight)s in the plan, still to be bought.")
            % {
                "lot": lot_name(lot.yarn.dye_lot),
                "weight": measures.balance_line(lot.to_come, units),
            }
            for lot in used
            if lot.to_come
        ],
        "cost": "" if not each.cost else measures.money(each.cost, currency),
    }


def _money(amount: Decimal | None, currency: str) -> str:
    return "" if amount is None else measures.money(amount, currency)


def _between(costs: Range, currency: str) -> str:
    """A range of prices in whole units of the currency."""
    told = measures.between(costs)
    return f"{told}\u00a0{currency}" if currency else told
