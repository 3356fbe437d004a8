"""The yarn of a blanket: what each colour still takes, what there is, whether it will be enough."""

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from accounts.access import may
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import blanket_for
from drives.craft.numbers.ranges import Range
from drives.models import Blanket
from drives.pages.yarn.buying_words import BuyingForm, buying_facts, buying_form
from drives.pages.yarn.lot_forms import LotsForm, lots_row
from drives.pages.yarn.new_lot_form import NewLotForm
from drives.pages.yarn.reserve_form import ReserveForm, reserve_choices
from drives.readings.buying import purchase
from drives.readings.lot_plans import overfull_of
from drives.readings.lots import Lots, lots_placed
from drives.readings.supply import Supply
from drives.readings.weights import weighed_so_far
from drives.words.yarn import enough_words, lot_name, rests_on_words
from shared.basics.lists import listed


@require_safe
@login_required
def blanket_yarn_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """For all who are in the circle."""
    return blanket_yarn(request, *blanket_for(request.user, blanket_id))


def blanket_yarn(
    request: SignedInRequest,
    blanket: Blanket,
    me: Member,
    lots: LotsForm | None = None,
    reserving: ReserveForm | None = None,
    wishing: BuyingForm | None = None,
    planning: NewLotForm | None = None,
) -> HttpResponse:
    """The forms: the one that was sent, where it was not right."""
    units, buying = blanket.drive.circle.units, purchase(blanket)
    found, placed = buying.supplies, lots_placed(blanket)
    left = [each for each in found if each.left]
    overfull = overfull_of(blanket, [each.lots for each in left])
    odd = sorted(place for each in found for place in each.odd)
    facts = {
        "blanket": blanket,
        "drive": blanket.drive,
        "colours": [_row(each, units) for each in left],
        "total": _total(left, units),
        "weighed": weighed_so_far(blanket),
        "odd": listed(odd),
        "uncoloured": [each.colour for each in found] == [""],
        "left": sum(len(each.left) for each in left),
        "several": [
            lots_row(
                blanket,
                each.colour,
                each.lots,
                placed.get(each.colour, {}),
                overfull,
                lots if _is_of(lots, each.colour) else None,
            )
            for each in left
            if each.lots and (each.lots.way or each.lots.apart)
        ],
        "reserved": [
            (each.yarn, measures.balance_line(each.grams, units))
            for each in blanket.reservations.exclude(grams=0).select_related("yarn")
        ],
        "reserving": reserving or _to_reserve(found, units),
        "looks_after": may(me, Role.COORDINATOR),
        "buying": buying_facts(buying),
        "wishing": wishing or buying_form(buying),
        "planning": planning or _to_plan(left, units),
    }
    sent = lots or reserving or wishing or planning
    return render(
        request, "drives/yarn/of_blanket.html", facts, status=sent.status if sent else 200
    )


def _to_reserve(found: list[Supply], units: str) -> ReserveForm | None:
    """None where the store has nothing in the colours of the blanket."""
    lots = [lot for each in found if each.lots and each.left for lot in each.lots.every]
    return ReserveForm(None, units=units, yarns=reserve_choices(lots, units)) if lots else None


def _to_plan(left: list[Supply], units: str) -> NewLotForm | None:
    """None where the store has no yarn that another lot would be like."""
    colours = [each.colour for each in left if each.lots]
    return NewLotForm(None, units=units, colours=colours) if colours else None


def _is_of(form: LotsForm | None, colour: str) -> bool:
    return form is not None and form["colour"].value() == colour


def _row(supply: Supply, units: str) -> dict[str, object]:
    takes, lots = supply.takes, supply.lots
    return {
        "colour": supply.colour,
        "left": len(supply.left),
        "begun": supply.begun,
        "takes": takes and _amount(takes.grams, takes.metres, units),
        "rests_on": takes and rests_on_words(takes.rests_on),
        **_there(lots, units),
        "others": _shown(supply.demand.others, units),
        "knitted": _shown(supply.demand.knitted, units),
        "line": enough_words(supply.colour, supply.enough),
        "due": supply.due,
        "short": supply.enough and supply.enough.short,
    }


def _there(lots: Lots | None, units: str) -> dict[str, object]:
    """What there is of the lots that count, and which they are where there are others."""
    if lots is None:
        return {}
    held = sum(lot.held for lot in lots.used)
    return {
        "stored": measures.balance_line(sum(lot.stored for lot in lots.used), units),
        "held": held and measures.balance_line(held, units),
        "kept": _shown(sum(lot.reserved for lot in lots.used), units),
        "promised": _shown(sum(sum(lot.promised.values()) for lot in lots.used), units),
        "lots": [
            lot_name(lot.yarn.dye_lot)
            for lot in lots.used
            if lot.grams and (lots.way or lots.apart)
        ],
    }


def _shown(grams: float, units: str) -> str:
    """An estimate of what is gone; empty where a scale would hardly show it."""
    return measures.weighed(round(grams), units) if grams >= 1 else ""


def _total(left: list[Supply], units: str) -> str:
    """Of all colours together; empty unless each is known."""
    known = [each.takes for each in left if each.takes]
    if not known or len(known) < len(left):
        return ""
    metres = [each.metres for each in known if each.metres]
    together = _sum(metres) if len(metres) == len(known) else None
    return _amount(_sum([each.grams for each in known]), together, units)


def _sum(ranges: list[Range]) -> Range:
    return Range(sum(each.low for each in ranges), sum(each.high for each in ranges))


def _amount(grams: Range, metres: Range | None, units: str) -> str:
    told = [measures.weight(grams, units)]
    if metres:
        told.append(measures.yarn_length(metres, units))
    return ", ".join(told)
