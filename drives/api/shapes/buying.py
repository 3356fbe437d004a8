"""The yarn of a blanket: what it takes, what there is of which lots, and what is to be bought."""

from collections.abc import Container, Mapping, Sequence
from decimal import Decimal
from typing import Annotated, Any, TypedDict

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.actions.yarn.ledger import MOST_GRAMS
from drives.api.fields import OneOf, Whole
from drives.craft.numbers.ranges import Range
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay, Unlike
from drives.craft.yarn.rests_on import Evidence
from drives.models import CERTAINTIES, Buying
from drives.models.buying import MOST_RIDGES
from drives.readings.buying import Purchase, ToBuy
from drives.readings.lots import Lot
from drives.readings.supply import Supply

from .bodies import BIGGEST_ID, Body
from .typed import shape

Placed = Mapping[str, Mapping[int | None, Sequence[Place]]]


class FromTo(TypedDict):
    """From the least to the most."""

    low: float
    high: float


class LotTold(TypedDict):
    """One yarn in one dye lot. ``grams``: in the store and in hands; ``reserved`` for this blanket,
    ``promised`` to others. ``to_come``: grams that are to be bought for this blanket; only plans
    count them. ``counts``: whether it counts for the blanket; where it cannot count
    with the others, ``unlike`` says why. ``squares``: those that are knitted in it by the plan;
    ``overfull``: they take more than there is, and choosing the same lots again lays them anew.
    """

    yarn: int
    dye_lot: str
    grams: int
    reserved: int
    promised: int
    to_come: int
    counts: bool
    unlike: Annotated[str, Unlike] | None
    overfull: bool
    squares: list[str]


class ColourTold(TypedDict):
    """The yarn of one colour, in grams; what is not known is null.

    ``takes``: for the ``left`` squares, and it rests on ``weighed`` pieces of that ``evidence``.
    ``there``: of the lots that count. ``enough``: the chance that it suffices for those squares.
    ``needs``: with the wanted certainty, border and seams in it; ``short`` of that, in whole
    ``balls`` of a lot that is there, or of one new lot for all (``balls_anew``). ``way``: how
    several lots meet. ``cost``: of the balls that are short.
    """

    colour: str
    left: int
    takes: FromTo | None
    evidence: Annotated[str, Evidence] | None
    weighed: int | None
    there: float
    enough: float | None
    needs: float | None
    short: float | None
    balls: int | None
    balls_anew: int | None
    cost: float | None
    way: Annotated[str, LotWay] | None
    lots: list[LotTold]


class WishesTold(TypedDict):
    """How this is worked out: ``certainty`` in per cent, ``packaging`` in grams, ``postage`` of the
    parcel, or null where nobody has told it.
    """

    certainty: int
    border_ridges: int
    border_colour: str
    seam_colour: str
    packaging: int
    postage: float | None


class YarnTold(TypedDict):
    """The yarn of a blanket. ``weighs``, and its ``parcel``: the finished blanket, in grams.

    ``cost``: of all that is to be bought, ``total_cost``: with the postage, ``yarn_costs``: of the
    yarn in the blanket, all in the ``currency`` of the circle (ISO 4217, or empty).
    """

    wishes: WishesTold
    colours: list[ColourTold]
    weighs: FromTo | None
    parcel: FromTo | None
    cost: float | None
    total_cost: float | None
    yarn_costs: FromTo | None
    currency: str


YarnOfBlanketSerializer: type[serializers.Serializer[Any]] = shape(YarnTold)


class WishesBody(Body):
    """What is not told stays as it is."""

    certainty = Whole(
        CERTAINTIES[0],
        CERTAINTIES[-1],
        required=False,
        help_text=gettext_lazy("In per cent: 50, 80, 90 or 95."),
    )
    border_ridges = Whole(0, MOST_RIDGES, required=False)
    border_colour = serializers.CharField(max_length=40, allow_blank=True, required=False)
    seam_colour = serializers.CharField(max_length=40, allow_blank=True, required=False)
    packaging = Whole(0, MOST_GRAMS, required=False, help_text=gettext_lazy("In grams."))
    postage = serializers.DecimalField(
        max_digits=8,
        decimal_places=2,
        min_value=Decimal(0),
        coerce_to_string=False,
        required=False,
        allow_null=True,
        help_text=gettext_lazy("For the parcel, in the circle’s currency."),
    )

    def validate_certainty(self, value: int) -> int:
        if value not in CERTAINTIES:
            raise serializers.ValidationError(gettext_lazy("This must be 50, 80, 90 or 95."))
        return value


class ReserveBody(Body):
    """``grams`` of the ``yarn`` in all; 0 frees what was reserved."""

    yarn = Whole(1, BIGGEST_ID)
    grams = Whole(0, MOST_GRAMS)


class LotsBody(Body):
    """The ``yarns`` of a ``colour`` that count together, and how they meet.

    Without a ``way`` one lot counts alone.
    """

    colour = serializers.CharField(max_length=40)
    yarns = serializers.ListField(child=Whole(1, BIGGEST_ID), max_length=100, default=list)
    way = OneOf(list(LotWay), default=None, allow_null=True)


class NewLotBody(Body):
    """``grams`` of a dye lot that are to be bought for the blanket; 0 take it out again.

    ``way``: how it meets those that count already, where nobody has chosen that.
    """

    colour = serializers.CharField(max_length=40)
    dye_lot = serializers.CharField(max_length=40)
    grams = Whole(0, MOST_GRAMS)
    way = OneOf(list(LotWay), default=None, allow_null=True)


def wishes_json(wishes: Buying) -> WishesTold:
    return {
        "certainty": wishes.certainty,
        "border_ridges": wishes.border_ridges,
        "border_colour": wishes.border_colour,
        "seam_colour": wishes.seam_colour,
        "packaging": wishes.packaging,
        "postage": None if wishes.postage is None else float(wishes.postage),
    }


def yarn_json(found: Purchase, placed: Placed, overfull: Container[int]) -> YarnTold:
    bought = {each.supply.colour: each for each in found.colours}
    return {
        "wishes": wishes_json(found.wishes),
        "colours": [
            _colour(each, bought.get(each.colour), placed.get(each.colour, {}), overfull)
            for each in found.supplies
        ],
        "weighs": _range(found.weighs),
        "parcel": _range(found.parcel),
        "cost": None if found.cost is None else float(found.cost),
        "total_cost": None if found.total is None else float(found.total),
        "yarn_costs": _range(found.costs),
        "currency": found.blanket.drive.circle.currency,
    }


def _colour(
    supply: Supply,
    bought: ToBuy | None,
    placed: Mapping[int | None, Sequence[Place]],
    overfull: Container[int],
) -> ColourTold:
    takes, lots = supply.takes, supply.lots
    short = bought.short if bought else None
    apart = lots.apart if lots else ()
    return {
        "colour": supply.colour,
        "left": len(supply.left),
        "takes": _range(takes.grams) if takes else None,
        "evidence": takes.rests_on.evidence if takes else None,
        "weighed": takes.rests_on.weighed if takes else None,
        "there": _told(supply.grams),
        "enough": supply.enough.probability if supply.enough else None,
        "needs": _told(short.anew) if short else None,
        "short": _told(short.grams) if short else None,
        "balls": short.balls if short else None,
        "balls_anew": short.balls_anew if short else None,
        "cost": None if bought is None or bought.cost is None else float(bought.cost),
        "way": lots.way if lots else None,
        "lots": [
            *(_lot(lot, True, None, placed, overfull) for lot in (lots.used if lots else ())),
            *(_lot(each.lot, False, each.why, placed, overfull) for each in apart),
        ],
    }


def _lot(
    lot: Lot,
    counts: bool,
    why: Unlike | None,
    placed: Mapping[int | None, Sequence[Place]],
    overfull: Container[int],
) -> LotTold:
    return {
        "yarn": lot.yarn.pk,
        "dye_lot": lot.yarn.dye_lot,
        "grams": lot.grams,
        "reserved": lot.reserved,
        "promised": sum(lot.promised.values()),
        "to_come": lot.to_come,
        "counts": counts,
        "unlike": why,
        "overfull": lot.yarn.pk in overfull,
        "squares": [str(place) for place in placed.get(lot.yarn.pk, ())],
    }


def _range(found: Range | None) -> FromTo | None:
    return None if found is None else {"low": _told(found.low), "high": _told(found.high)}


def _told(grams: float) -> float:
    """So fine that whoever rounds it up or down, as pages do, comes to the same whole gram."""
    return round(grams, 6)
