"""Several dye lots of one colour, and the form that asks which of them count together."""

from collections.abc import Container, Mapping, Sequence
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives import measures
from drives.actions.colours import lots as actions
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay
from drives.drawing.colour_map import colour_map_svg
from drives.drawing.weaves import colour_sign
from drives.models import LOT_WAYS, Blanket
from drives.pages.common.svg import drawn
from drives.pages.yarn.words import weight_words
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
    blanket: Blanket,
    colour: str,
    lots: Lots,
    placed: Mapping[int | None, Sequence[Place]],
    overfull: Container[int],
    sent: LotsForm | None,
) -> dict[str, object]:
    """What a page tells of the lots of a ``colour``; ``sent``: the form, where it was refused.

    ``placed``: its squares by their yarn's id, or None where they have no lot. ``overfull``: the
    yarns, by id, of which the plan takes more than there is.
    """
    every, units = lots.every, blanket.drive.circle.units
    initial = {
        "colour": colour,
        "way": lots.way or ALONE,
        "yarns": [lot.yarn.pk for lot in lots.used] if lots.way else [],
    }
    choices = [(lot.yarn.pk, _told(lot, units)) for lot in every]
    form = sent or LotsForm(None, choices, initial=initial, auto_id=f"id_{every[0].yarn.pk}_%s")
    return {
        "colour": colour,
        "used": [
            (_told(lot, units), listed(placed.get(lot.yarn.pk, ())), sign)
            for lot, sign in zip(lots.used, _signs(lots), strict=True)
        ],
        "map": _map(blanket, colour, lots, placed),
        "unplaced": listed(placed.get(None, ())) if lots.way else "",
        "overfull": listed(
            [lot_name(lot.yarn.dye_lot) for lot in lots.used if lot.yarn.pk in overfull]
        ),
        "again": initial,
        "way": lots.way and LOT_WAYS[lots.way],
        "apart": [
            apart_words(lot_name(each.lot.yarn.dye_lot), _weight(each.lot, units), each.why)
            for each in lots.apart
        ],
        "form": form,
        "open": sent is not None,
    }


def _signs(lots: Lots) -> list[SafeString]:
    """What each lot is drawn as on the map; nothing where one alone counts."""
    if not lots.way:
        return [drawn("") for _lot in lots.used]
    every = enumerate(lots.yarns, start=1)
    return [drawn(colour_sign(number, yarn.value)) for number, yarn in every]


def _map(
    blanket: Blanket, colour: str, lots: Lots, placed: Mapping[int | None, Sequence[Place]]
) -> SafeString | str:
    """Where the lots lie, each drawn in another way; the other colours are left out."""
    named = {str(yarn.pk): yarn for yarn in lots.yarns}
    where = {place: name for name, yarn in named.items() for place in placed.get(yarn.pk, ())}
    if not lots.way or not where:
        return ""
    title = _("Where the dye lots of %(colour)s lie") % {"colour": colour}
    looks = {name: yarn.value for name, yarn in named.items()}
    prefix = f"lots-{lots.yarns[0].pk}"
    return drawn(colour_map_svg(blanket.plan(), where, looks, title=title, prefix=prefix))


def _told(lot: Lot, units: str) -> str:
    kept = weight_words(lot.grams, lot.to_come, units)
    return f"{lot_name(lot.yarn.dye_lot)}: {kept}"


def _weight(lot: Lot, units: str) -> str:
    return measures.balance_line(lot.grams, units)
