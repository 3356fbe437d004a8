"""Several dye lots of one colour, and the form that asks which of them count together."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives import measures
from drives.actions.colours import lots as actions
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay
from drives.models import LOT_WAYS, Blanket
from drives.readings.lots import Lot, Lots
from drives.words.yarn import apart_words, lot_name
from shared.basics.lists import listed
from shared.basics.text import Text
from shared.pages.forms import ActionForm

ALONE = "alone"


class LotsForm(ActionForm):
    """Of one colour: which lots, and how they meet."""

    colour = forms.CharField(max_length=40, widget=forms.HiddenInput)
    way = forms.ChoiceField(
        label=gettext_lazy("How they meet"),
        choices=[
            (ALONE, gettext_lazy("One dye lot alone")),
            (
                LotWay.NEVER_SIDE_BY_SIDE,
                gettext_lazy("Several, never two of them side by side"),
            ),
            (LotWay.AT_A_SEAM, gettext_lazy("Several, each panel in one of them")),
        ],
        widget=forms.RadioSelect,
    )
    yarns = forms.TypedMultipleChoiceField(
        label=gettext_lazy("Which dye lots"),
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, sent: Any, yarns: Sequence[tuple[int, Text]], **kwargs: Any) -> None:
        super().__init__(sent, **kwargs)
        self.offer("yarns", yarns)

    def act(self, blanket: Blanket, me: Member) -> bool:
        """What a valid form asks for."""
        told, now = self.cleaned_data, timezone.now()
        if told["way"] == ALONE:
            return actions.keep_to_one_lot(blanket=blanket, colour=told["colour"], by=me, now=now)
        return actions.choose_lots(
            blanket=blanket,
            colour=told["colour"],
            yarns=told["yarns"],
            way=LotWay(told["way"]),
            by=me,
            now=now,
        )


def lots_row(
    colour: str,
    lots: Lots,
    placed: Mapping[int | None, Sequence[Place]],
    units: str,
    sent: LotsForm | None,
) -> dict[str, object]:
    """What a page tells of the lots of a ``colour``; ``sent``: the form, where it was refused.

    ``placed``: its squares by their yarn's id, or None where they have no lot.
    """
    every = [*lots.used, *(each.lot for each in lots.apart)]
    initial = {
        "colour": colour,
        "way": lots.way or ALONE,
        "yarns": [lot.yarn.pk for lot in lots.used] if lots.way else [],
    }
    choices = [(lot.yarn.pk, _told(lot, units)) for lot in every]
    form = sent or LotsForm(None, choices, initial=initial, auto_id=f"id_{every[0].yarn.pk}_%s")
    return {
        "colour": colour,
        "used": [(_told(lot, units), listed(placed.get(lot.yarn.pk, ()))) for lot in lots.used],
        "unplaced": listed(placed.get(None, ())) if lots.way else "",
        "way": lots.way and LOT_WAYS[lots.way],
        "apart": [
            apart_words(lot_name(each.lot.yarn.dye_lot), _weight(each.lot, units), each.why)
            for each in lots.apart
        ],
        "form": form,
        "open": sent is not None,
    }


def _told(lot: Lot, units: str) -> str:
    return f"{lot_name(lot.yarn.dye_lot)}: {_weight(lot, units)}"


def _weight(lot: Lot, units: str) -> str:
    return measures.balance_line(lot.grams, units)
