"""Whether squares are only taken and brought when a circle meets, and when that is."""

from collections.abc import Iterable, Sequence
from math import floor
from typing import NamedTuple

from .history import Spell

# So many events, on so many days, tell, of which such a share must agree.
EVENTS, DAYS, AGREE = 5, 3, 0.9
EVERY = (28, 14, 7)  # days from one meeting to the next that are looked for


class Gatherings(NamedTuple):
    """The days of ``past`` meetings, ascending, and so many days from one to the next."""

    past: tuple[int, ...]
    every: int

    def ahead(self, known: Iterable[int]) -> tuple[int, ...]:
        """The days of meetings after the last one: those ``known``, else as far apart."""
        return tuple(day for day in sorted(known) if day >= 0 and day > self.past[-1]) or tuple(
            self.past[-1] + self.every * number for number in (1, 2)
        )


def gatherings(spells: Sequence[Spell], known: Sequence[int] = ()) -> Gatherings | None:
    """``known``: days of meetings that were told; else every four weeks, fortnight or week.

    None where people knit on other days too, or too little has happened to say.
    """
    moments = [moment for spell in spells for moment in (spell.taken, spell.ended)]
    days = [floor(moment) for moment in moments if moment < 1]
    if len(days) < EVENTS or len(set(days)) < DAYS:
        return None
    until = 1 if 0 in days else 0  # today's meeting is past once something has happened there
    told = {day for day in known if day < until}
    if len(told) > 1 and _agree(day in told for day in days):
        return Gatherings(tuple(sorted(told)), round((max(told) - min(told)) / (len(told) - 1)))
    for every in EVERY:
        most = max(range(every), key=lambda rest: sum(day % every == rest for day in days))
        if _agree(day % every == most for day in days):
            first = min(day for day in days if day % every == most)
            return Gatherings(tuple(range(first, until, every)), every)
    return None


def _agree(events: Iterable[bool]) -> bool:
    seen = list(events)
    return sum(seen) >= AGREE * len(seen)
