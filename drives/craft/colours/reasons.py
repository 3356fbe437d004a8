"""Why there is no colour plan, as codes and facts."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Any, NamedTuple

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .count import Shortage
from .neighbours import neighbours
from .task import Task
from .wish import Wish


class Why(StrEnum):
    """What is wrong; the values are codes for pages and API."""

    ALIKE = "kept-alike"
    TOO_MANY = "kept-too-many"
    NO_COLOUR = "no-colour-left"
    SHORT = "short"
    NO_WAY = "no-way"


class Reason(NamedTuple):
    """One reason and its facts.

    ``kept-alike``: places ``one`` and ``other``, ``colour``. ``kept-too-many``: ``colour``,
    ``kept``, ``most``, ``over``. ``no-colour-left``: ``place`` and the colours that are ``beside``
    it, ``barred`` or ``too_little`` for it. ``short``: ``colours`` that are ``short`` by so many
    units, for ``places`` with ``wanted`` units, of which they suffice for ``enough_for``; these
    can ``only`` have some colours, and of others can take at ``most`` so many units. Whether they
    are ``every`` square, and a ``large`` one is among them; whether a rule has ``limited`` the
    colours, and they are all the colours there are, ``together``. Without ``places``: of squares
    that are kept. ``no-way``: ``squares``; and ``colours`` and ``short`` where so much more of one
    would do, or of another colour where the list is empty.
    """

    why: Why
    facts: dict[str, Any]


def kept_wrongly(plan: Plan, wish: Wish) -> Iterator[Reason]:
    """What is wrong with the kept squares by themselves."""
    near, before = neighbours(plan, wish), set[Place]()
    for place in plan.places:
        colour = wish.kept.get(place)
        before.add(place)
        for other in near[place]:
            if colour is not None and wish.kept.get(other) == colour and other in before:
                yield Reason(Why.ALIKE, {"one": other, "other": place, "colour": colour})
    for colour, most in wish.at_most.items():
        kept = sum(own == colour for own in wish.kept.values())
        if kept > most:
            yield Reason(
                Why.TOO_MANY,
                {"colour": colour, "kept": kept, "most": most, "over": kept - most},
            )


def without_colour(plan: Plan, wish: Wish, task: Task) -> Iterator[Reason]:
    """The squares that no colour is open to, with what keeps each colour away."""
    near = neighbours(plan, wish)
    for place, may in zip(task.places, task.may, strict=True):
        if may or not wish.colours:
            continue
        taken = {wish.kept.get(other) for other in near[place]}
        allowed = wish.allowed.get(place, wish.colours)
        barred = [name for name in wish.colours if name not in allowed]
        beside = [name for name in wish.colours if name in taken and name not in barred]
        too_little = [name for name in wish.colours if name not in {*barred, *beside}]
        yield Reason(
            Why.NO_COLOUR,
            {"place": place, "beside": beside, "barred": barred, "too_little": too_little},
        )


def short(wish: Wish, task: Task, found: Shortage) -> Reason:
    """Which colours are short by how many squares, as counting tells."""
    names = list(wish.colours)
    colours = [names[colour] for colour in found.colours]
    return Reason(
        Why.SHORT,
        {
            "colours": colours,
            "short": found.short,
            "places": [task.places[square] for square in found.squares],
            "wanted": found.wanted,
            "enough_for": found.enough_for,
            "only": [names[colour] for colour in sorted({*found.colours, *found.most})],
            "most": {names[colour]: units for colour, units in found.most.items()},
            "every": len(found.squares) == len(task.places),
            "large": any(task.weight[square] > 1 for square in found.squares),
            "limited": any(name in wish.at_most for name in colours),
            "together": len(colours) == len(names) > 2,
        },
    )


def no_way(task: Task, colour: str | None = None, more: int = 0) -> Reason:
    """All plans were looked through.

    With ``more`` squares of ``colour``, or of another colour than there is, there would be one.
    """
    facts: dict[str, Any] = {"squares": len(task.places)}
    if more:
        facts |= {"colours": [colour] if colour else [], "short": more}
    return Reason(Why.NO_WAY, facts)
