"""Why there is no colour plan, as values that tell it in words."""

from collections.abc import Iterator, Sequence
from enum import StrEnum
from typing import NamedTuple

from drives.craft.layout.plan import Plan

from .count import Shortage
from .task import Task
from .wish import Wish

NAMED = 4  # squares that a sentence names before it counts the others


class Why(StrEnum):
    """What is wrong; the values are codes for pages and API."""

    ALIKE = "kept-alike"
    TOO_MANY = "kept-too-many"
    NO_COLOUR = "no-colour-left"
    SHORT = "short"
    NO_WAY = "no-way"


class Reason(NamedTuple):
    """One reason, as a sentence and as ``facts`` for programs.

    ``kept-alike``: places ``one`` and ``other``, ``colour``. ``kept-too-many``: ``colour``,
    ``kept``, ``most``, ``over``. ``no-colour-left``: ``place`` and the colours that are ``beside``
    it, ``barred`` or ``too_little`` for it. ``short``: ``colours`` that are ``short`` by so many
    units, for ``places`` with ``wanted`` units, of which they suffice for ``enough_for``.
    ``no-way``: ``squares``; and ``colours`` and ``short`` where so much more of one would do, or of
    another colour where the list is empty.
    """

    why: Why
    detail: str
    facts: dict[str, object]


def listed(names: Sequence[object], word: str = "and") -> str:
    """``red``, ``red and blue`` or ``red, blue and green``."""
    *first, last = map(str, names)
    return f"{', '.join(first)} {word} {last}" if first else last


def squares(count: int) -> str:
    return "1 square" if count == 1 else f"{count} squares"


def kept_wrongly(plan: Plan, wish: Wish) -> Iterator[Reason]:
    """What is wrong with the kept squares by themselves."""
    for place in plan.places if wish.apart else ():
        colour = wish.kept.get(place)
        for other in plan.stands_on[place]:
            if colour is not None and wish.kept.get(other) == colour:
                yield Reason(
                    Why.ALIKE,
                    f"{other} and {place} are joined, and both are {colour}.",
                    {"one": other, "other": place, "colour": colour},
                )
    for colour, most in wish.at_most.items():
        kept = sum(own == colour for own in wish.kept.values())
        if kept > most:
            be = "is" if kept == 1 else "are"
            yield Reason(
                Why.TOO_MANY,
                f"At most {squares(most)} may be {colour},"
                f" but {kept} {be} already: {kept - most} too many.",
                {"colour": colour, "kept": kept, "most": most, "over": kept - most},
            )


def without_colour(plan: Plan, wish: Wish, task: Task) -> Iterator[Reason]:
    """The squares that no colour is open to, with what keeps each colour away."""
    for place, may in zip(task.places, task.may, strict=True):
        if may or not wish.colours:
            continue
        near = (*plan.stands_on[place], *plan.carries[place]) if wish.apart else ()
        taken = {wish.kept.get(other) for other in near}
        allowed = wish.allowed.get(place, wish.colours)
        barred = [name for name in wish.colours if name not in allowed]
        beside = [name for name in wish.colours if name in taken and name not in barred]
        too_little = [name for name in wish.colours if name not in {*barred, *beside}]
        clauses = [
            f"{listed(colours)} {'is' if len(colours) == 1 else 'are'} {what}"
            for colours, what in ((beside, "beside it"), (barred, "not allowed there"))
            if colours
        ]
        if too_little:
            clauses.append(f"there is too little of {listed(too_little, 'and of')}")
        yield Reason(
            Why.NO_COLOUR,
            f"No colour can be had for {place}: {listed(clauses)}.",
            {"place": place, "beside": beside, "barred": barred, "too_little": too_little},
        )


def short(wish: Wish, task: Task, found: Shortage) -> Reason:
    """Which colours are short by how many squares, as counting tells."""
    names = list(wish.colours)
    colours = [names[colour] for colour in found.colours]
    most = [f"{names[colour]} can take at most {units}" for colour, units in found.most.items()]
    clauses = []
    if most:
        clauses.append(f"as no two joined squares may be alike, {listed(most)} of them")
    if colours:
        verb = "suffices for" if len(colours) == 1 else "suffice for"
        if any(name in wish.at_most for name in colours):
            verb = "may be used for"
        whole = len(colours) == len(names) > 2
        own = "the colours together" if whole else listed(colours)
        clauses.append(f"{own} {verb} {found.enough_for}")
    wanted = _wanted(
        task, found, [names[colour] for colour in sorted({*found.colours, *found.most})]
    )
    why = listed(clauses or ["there are no colours"])
    detail = f"{wanted}: {why}. {squares(found.short)} short."
    if any(task.weight[square] > 1 for square in found.squares):
        detail += " A large square counts as the squares of one unit that it covers."
    facts: dict[str, object] = {
        "colours": colours,
        "short": found.short,
        "places": [task.places[square] for square in found.squares],
        "wanted": found.wanted,
        "enough_for": found.enough_for,
    }
    return Reason(Why.SHORT, detail, facts)


def _wanted(task: Task, found: Shortage, colours: Sequence[str]) -> str:
    wanted = squares(found.wanted)
    if len(found.squares) == len(task.places):
        return f"{wanted} {'is' if found.wanted == 1 else 'are'} to be coloured"
    names = [str(task.places[square]) for square in found.squares]
    if len(names) > NAMED:
        names[NAMED - 1 :] = [f"{len(names) - NAMED + 1} others"]
    count = f" ({wanted})" if len(names) > 1 else ""
    return f"{listed(names)}{count} can only be {listed(colours, 'or')}"


def no_way(task: Task, colour: str | None = None, more: int = 0) -> Reason:
    """All plans were looked through.

    With ``more`` squares of ``colour``, or of another colour than there is, there would be one.
    """
    ways = f"Every way to colour {squares(len(task.places))} was ruled out, one after the other."
    facts: dict[str, object] = {"squares": len(task.places)}
    if not more:
        return Reason(Why.NO_WAY, ways, facts)
    facts |= {"colours": [colour] if colour else [], "short": more}
    what = f"{squares(more)} more of {colour}" if colour else f"another colour for {squares(more)}"
    return Reason(Why.NO_WAY, f"{ways} With {what} there is one.", facts)
