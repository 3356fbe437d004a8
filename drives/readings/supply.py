"""Whether the yarn of each colour will be enough for what a blanket still needs of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from drives.craft.places import Place
from drives.craft.yarn.enough import Enough, estimate, whether_enough
from drives.craft.yarn.weighing import PerStitch
from drives.craft.yarn.yarn import Estimate
from drives.models.blanket import Blanket
from drives.models.square import Square, StoredState

from .demand import Demand, demands, there
from .lots import Lots, lots_of, used_in
from .stock import stock
from .weights import stitches, weights

NOTHING_MORE: Mapping[str, tuple[int, ...]] = MappingProxyType({})


@dataclass(frozen=True)
class Supply:
    """One colour of a blanket: the squares ``left`` in it, and the yarn for them.

    ``left``: the stitches worked in each unfinished square, the ``begun`` ones first. ``known``:
    what a stitch weighs. ``lots`` is None where the circle has no yarn of that name; some of those
    used may be gone by ``demand``. ``odd``: weighed squares that are far from the others.
    ``more``: the stitches of what is knitted and sewn beside the squares.
    """

    colour: str
    left: tuple[int, ...]
    begun: int
    known: PerStitch | None
    lots: Lots | None
    demand: Demand
    odd: tuple[Place, ...]
    more: tuple[int, ...] = ()

    @property
    def takes(self) -> Estimate | None:
        """What the squares that are left take; None where nothing is known of their weight."""
        return self.known and estimate(self.known, self.left, self._metres)

    @cached_property
    def enough(self) -> Enough | None:
        """None where it cannot be said: no weight is known, or no yarn is written down."""
        if self.known is None or self.lots is None:
            return None
        return whether_enough(self.known, self.left, self.grams)

    @property
    def grams(self) -> float:
        """What is there for these squares, of one lot or of those that were chosen together."""
        return there(self.lots, self.demand) if self.lots else 0.0

    @property
    def due(self) -> bool:
        """The moment to warn: what is in hand, or the next one, takes all that surely suffices."""
        if self.enough is None or not self.enough.short:
            return False
        return self.enough.suffices_for <= max(self.begun, 1)

    @property
    def _metres(self) -> float | None:
        """To 100 g, as the first of the used yarns tells that has them told."""
        told = [yarn.metres_per_100_grams for yarn in self.lots.yarns] if self.lots else []
        return next(filter(None, told), None)


def due_supply(square: Square) -> Supply | None:
    """Of the square's colour, where it may be the last that the yarn surely suffices for.

    None when there is no need to warn, or when nothing is known.
    """
    of_colour = (each for each in supplies(square.blanket) if each.colour == square.colour)
    return next((each for each in of_colour if each.due), None)


def supplies(blanket: Blanket, more: Mapping[str, tuple[int, ...]] = NOTHING_MORE) -> list[Supply]:
    """By colour in alphabetical order; squares without one come first, under an empty name.

    ``more``: what is knitted and sewn beside the squares, in these colours.

    At most nine queries.
    """
    lots = lots_of(blanket, stock(blanket.drive.circle))
    known = weights(blanket, used_in(lots))
    gone = demands(blanket, lots, known)
    colours, unfinished = _squares(blanket)
    return [
        Supply(
            colour=name,
            left=tuple(size for _begun, size in unfinished.get(name, ())),
            begun=sum(begun for begun, _size in unfinished.get(name, ())),
            known=known.get(name),
            lots=lots.get(name),
            demand=gone.get(name, Demand()),
            odd=_odd(known.get(name), name, colours),
            more=more.get(name, ()),
        )
        for name in sorted({*colours.values(), *more})
    ]


def _squares(blanket: Blanket) -> tuple[dict[Place, str], dict[str, list[tuple[bool, int]]]]:
    """The colour of each square, and of each colour the unfinished ones: begun, and stitches."""
    colours: dict[Place, str] = {}
    unfinished: dict[str, list[tuple[bool, int]]] = {}
    for column, row, size, colour, state in blanket.squares.order_by("row", "column").values_list(
        "column", "row", "size", "colour", "state"
    ):
        colours[Place(column, row)] = colour
        if state != StoredState.FINISHED:
            facts = state == StoredState.TAKEN, stitches(blanket, size)
            unfinished.setdefault(colour, []).append(facts)
    for each in unfinished.values():
        each.sort(key=lambda facts: not facts[0])
    return colours, unfinished


def _odd(known: PerStitch | None, name: str, colours: Mapping[Place, str]) -> tuple[Place, ...]:
    """Few squares of a colour are judged among all; those of other colours are not its own."""
    far = known.left_out if known else ()
    return tuple(each.place for each in far if colours[each.place] == name)
