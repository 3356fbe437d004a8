"""What is to be bought for a blanket, what it will weigh, and what that costs."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, NamedTuple

from drives.craft.layout.border import border, ridges
from drives.craft.layout.finishing import sewn
from drives.craft.numbers.ranges import Range
from drives.craft.yarn.buying import Short, sewing, short
from drives.craft.yarn.enough import needed, weight
from drives.models.blanket import Blanket
from drives.models.buying import Buying
from drives.models.square import StoredState
from drives.models.yarn import Yarn

from .supply import Supply, supplies
from .weights import Weights, stitches


class ToBuy(NamedTuple):
    """One colour: its ``supply``, and what is ``short``, or None where no weight is known.

    ``price``: of a ball; ``cost``: of the balls that are short. None where nobody has told.
    """

    supply: Supply
    short: Short | None
    ball: int | None
    price: Decimal | None

    @property
    def cost(self) -> Decimal | None:
        if self.short is not None and self.short.grams <= 0:
            return Decimal(0)
        if self.short is None or self.short.balls is None or self.price is None:
            return None
        return self.short.balls * self.price


@dataclass(frozen=True)
class Purchase:
    """``colours`` with something left to knit or to sew, by the blanket's ``wishes``.

    ``supplies``: of all its colours.
    ``weighs``: the finished blanket, in grams; ``costs``: the yarn in it. None where a colour is
    not known.
    """

    blanket: Blanket
    wishes: Buying
    supplies: list[Supply]
    colours: list[ToBuy]
    weighs: Range | None
    costs: Range | None

    @property
    def parcel(self) -> Range | None:
        """Grams, with its packaging."""
        if self.weighs is None:
            return None
        more = self.wishes.packaging
        return Range(self.weighs.low + more, self.weighs.high + more)

    @property
    def cost(self) -> Decimal | None:
        """Of all balls that are short; None where one of them is not known."""
        costs = [each.cost for each in self.colours]
        known = [cost for cost in costs if cost is not None]
        return sum(known, Decimal(0)) if known and len(known) == len(costs) else None

    @property
    def total(self) -> Decimal | None:
        """What is still to be paid: all balls that are short, and the postage if one is told."""
        if self.cost is None or self.wishes.postage is None:
            return self.cost
        return self.cost + self.wishes.postage


def wishes_of(blanket: Blanket) -> Buying:
    """As somebody has told them, or the defaults, unsaved; one query."""
    return Buying.objects.filter(blanket=blanket).first() or Buying(blanket=blanket)


def purchase(blanket: Blanket) -> Purchase:
    """At most twelve queries."""
    wishes = wishes_of(blanket)
    found = supplies(blanket, _beside(blanket, wishes))
    colours = [_to_buy(each, wishes.certainty) for each in found if each.left or each.more]
    weighs = _weighs(blanket, found)
    whole = None if None in weighs.values() else _sum([each for each in weighs.values() if each])
    return Purchase(blanket, wishes, found, colours, whole, _costs(found, weighs))


def _beside(blanket: Blanket, wishes: Buying) -> dict[str, tuple[int, ...]]:
    """The stitches of the border, ridge by ridge, and what the seams take, by colour."""
    layout = blanket.plan().layout
    found: dict[str, tuple[int, ...]] = {}
    if wishes.border_ridges:
        found[wishes.border_colour] = tuple(ridges(border(layout), wishes.border_ridges))
    if seams := sewn(layout):
        more = sewing(seams * layout.stitches)
        found[wishes.seam_colour] = (*found.get(wishes.seam_colour, ()), more)
    return found


def _to_buy(supply: Supply, certainty: int) -> ToBuy:
    yarns = supply.lots.yarns if supply.lots else []
    ball = _first(yarns, "ball_grams")
    price = _first(yarns, "price")
    if supply.known is None:
        return ToBuy(supply, None, ball, price)
    wanted = needed(supply.known, supply.left + supply.more, certainty / 100)
    return ToBuy(supply, short(wanted, supply.grams, ball), ball, price)


def _weighs(blanket: Blanket, found: list[Supply]) -> dict[str, Range | None]:
    """What each colour of the finished blanket weighs: squares on a scale, and the others."""
    scales: dict[str, float] = {each.colour: 0.0 for each in found}
    unknown: dict[str, list[int]] = {each.colour: [*each.left, *each.more] for each in found}
    done = blanket.squares.filter(state=StoredState.FINISHED)
    for colour, size, grams in done.values_list("colour", "size", "grams"):
        if grams is None:
            unknown[colour].append(stitches(blanket, size))
        else:
            scales[colour] += float(grams)
    known: Weights = {each.colour: each.known for each in found}
    return {
        colour: _weight(known, colour, squares, scales[colour])
        for colour, squares in unknown.items()
    }


def _weight(known: Weights, colour: str, squares: list[int], scale: float) -> Range | None:
    if not squares:
        return Range(scale, scale)
    per_stitch = known[colour]
    if per_stitch is None:
        return None
    about = weight(per_stitch, squares)
    return Range(about.low + scale, about.high + scale)


def _costs(found: list[Supply], weighs: Mapping[str, Range | None]) -> Range | None:
    """Of the yarn that is in the finished blanket, at the prices of its balls."""
    parts = []
    for each in found:
        yarns = each.lots.yarns if each.lots else []
        ball, price, grams = (
            _first(yarns, "ball_grams"),
            _first(yarns, "price"),
            weighs[each.colour],
        )
        if ball is None or price is None or grams is None:
            return None
        parts.append(grams.times(float(price) / ball))
    return _sum(parts) if parts else None


def _first(yarns: list[Yarn], field: str) -> Any:
    """What the first of the yarns tells that has it told."""
    told = (getattr(yarn, field) for yarn in yarns)
    return next((value for value in told if value is not None), None)


def _sum(ranges: list[Range]) -> Range:
    return Range(sum(each.low for each in ranges), sum(each.high for each in ranges))
