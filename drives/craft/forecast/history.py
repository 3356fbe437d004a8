"""What happened in a circle: who held which square and when, and when something could be begun.

All times are in days from now; the past is negative.
"""

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import inf
from typing import NamedTuple

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .week import Week, stretches

MOMENT = 1 / 24  # days: what is noted within an hour happened together
Stretch = tuple[float, float]


class Spell(NamedTuple):
    """A square in the hands of ``knitter``: an index, or -1 for who has left the circle.

    From ``taken`` to ``ended``, which is ``inf`` while it is open. ``finished``: else it was given
    back, released, or has lapsed. ``units``: its stitches as a share of a square of one unit.
    ``lapses``: when an open one does.
    """

    blanket: int
    place: Place
    knitter: int
    taken: float
    ended: float
    finished: bool
    units: float = 1.0
    lapses: float = inf

    @property
    def open(self) -> bool:
        return self.ended == inf


class Person(NamedTuple):
    """``since``: when they could first begin. ``away``: stretches in order, past and future."""

    since: float
    away: Sequence[Stretch] = ()


@dataclass(frozen=True)
class History:
    """``spells`` of all blankets, by ``taken``. ``plans``: those of blankets that are still known.

    ``room``: the people who may work on a blanket at once, where that is limited. ``travelling``:
    the blankets whose pieces only one has at a time; when others could begin something, nobody
    knows. ``met``: the moments of past meetings, ascending, if squares are only taken and brought
    there.
    """

    people: Sequence[Person]
    spells: Sequence[Spell] = ()
    plans: Mapping[int, Plan] = field(default_factory=dict)
    room: Mapping[int, int] = field(default_factory=dict)
    travelling: Set[int] = frozenset()
    met: Sequence[float] = ()

    def by(self, week: Week) -> "History":
        """The same in days of knitting."""
        knitting = week.knitting
        return replace(
            self,
            people=[
                Person(knitting(each.since), stretches(week, each.away)) for each in self.people
            ],
            spells=[
                each._replace(
                    taken=knitting(each.taken),
                    ended=knitting(each.ended),
                    lapses=knitting(each.lapses),
                )
                for each in self.spells
            ],
            met=[knitting(each) for each in self.met],
        )

    def since_meeting(self, moment: float) -> float:
        """The days from the meeting before ``moment`` to it; 0 where people need no meetings."""
        index = bisect_left(self.met, moment - MOMENT)
        return moment - self.met[index - 1] if index else 0.0

    def kept(self, last: Spell, spell: Spell) -> bool:
        """Whether somebody had a travelling piece all the time from one square to the next."""
        if last.blanket != spell.blanket or spell.blanket not in self.travelling:
            return False
        return not any(
            last.ended - MOMENT < each.taken < spell.taken
            for each in self._of_blanket[spell.blanket]
        )

    def of(self, knitter: int) -> list[Spell]:
        return self._of_knitter[knitter]

    @cached_property
    def _of_knitter(self) -> dict[int, list[Spell]]:
        found = defaultdict[int, list[Spell]](list)
        for spell in self.spells:
            found[spell.knitter].append(spell)
        return found

    @cached_property
    def _of_blanket(self) -> dict[int, list[Spell]]:
        found = defaultdict[int, list[Spell]](list)
        for spell in self.spells:
            found[spell.blanket].append(spell)
        return found

    @cached_property
    def _sweep(self) -> "_Sweep":
        return _Sweep(self)

    def openings(self) -> list[Stretch]:
        """The stretches until now in which a square could be begun on any blanket, in order.

        Those that last but a moment are left out: somebody took the square as it became ready.
        """
        return self._sweep.openings

    def shares(self, blankets: Sequence[int]) -> list[float]:
        """How often each of ``blankets`` was chosen when there was a choice.

        Laplace's rule of succession: as if each had been chosen once of two times.
        """
        return [
            (self._sweep.chosen[blanket] + 1) / (self._sweep.offered[blanket] + 2)
            for blanket in blankets
        ]


class _Sweep:
    """All takings and endings in order: when something could be begun, and what was chosen then."""

    def __init__(self, history: History) -> None:
        self.openings: list[Stretch] = []
        self.chosen: Counter[int] = Counter()
        self.offered: Counter[int] = Counter()
        self._plans, self._room = history.plans, history.room
        self._ready = dict.fromkeys(history.plans, 0)
        self._at_work = dict(self._ready)
        self._unmet = {
            blanket: {place: len(under) for place, under in plan.stands_on.items()}
            for blanket, plan in history.plans.items()
        }
        self._begun: set[int] = set()
        # What is put down at a moment can be taken up at the same one.
        events = [(spell.ended, 0, spell) for spell in history.spells if spell.ended <= 0]
        events += [(spell.taken, 1, spell) for spell in history.spells]
        open_since: float | None = None
        for moment, taken, spell in sorted(events, key=lambda event: event[:2]):
            if spell.blanket not in self._plans:
                continue
            self._begin(spell.blanket)
            if taken:
                self._take(spell)
            else:
                self._put_down(spell)
            if not any(map(self._open, self._plans)):
                if open_since is not None and moment - open_since > MOMENT:
                    self.openings.append((open_since, moment))
                open_since = None
            elif open_since is None:
                open_since = moment
        if open_since is not None and open_since < -MOMENT:
            self.openings.append((open_since, 0.0))

    def _begin(self, blanket: int) -> None:
        """Nobody could begin a blanket before anybody did: it may not have been there."""
        if blanket not in self._begun:
            self._begun.add(blanket)
            ready = sum(not count for count in self._unmet[blanket].values())
            self._ready[blanket] = ready

    def _open(self, blanket: int) -> bool:
        room = self._room.get(blanket)
        return self._ready[blanket] > 0 and (room is None or self._at_work[blanket] < room)

    def _take(self, spell: Spell) -> None:
        there = [blanket for blanket in self._plans if self._open(blanket)]
        if len(there) > 1 and spell.blanket in there:
            self.offered.update(there)
            self.chosen[spell.blanket] += 1
        self._ready[spell.blanket] -= 1
        self._at_work[spell.blanket] += 1

    def _put_down(self, spell: Spell) -> None:
        blanket = spell.blanket
        self._at_work[blanket] -= 1
        self._ready[blanket] += not spell.finished
        if spell.finished:
            unmet = self._unmet[blanket]
            for above in self._plans[blanket].carries.get(spell.place, ()):
                unmet[above] -= 1
                self._ready[blanket] += not unmet[above]
