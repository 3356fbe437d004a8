"""Who gets which panel: alike within each, and the slowest done as soon as can be."""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations
from typing import NamedTuple

from .tension import TOLERANCE

EXACT = 8  # panels, and people, up to which no better way is left out


class Able(NamedTuple):
    """Somebody who knits: ``days`` for a square of one unit, ``gauge`` to 10 cm, None unknown."""

    days: float
    gauge: float | None = None


class Panel(NamedTuple):
    """``work`` left, in squares of one unit, and the ``gauges`` of those who began it.

    ``begun_by``: those of them who are among the people, by number.
    """

    work: float
    gauges: tuple[float, ...] = ()
    begun_by: frozenset[int] = frozenset()


class Share(NamedTuple):
    """A panel's ``people`` by number, and ``days`` until they are done with all that they have."""

    people: tuple[int, ...]
    days: float


def shares(
    panels: Sequence[Panel],
    people: Sequence[Able],
    room: int | None = None,
    tolerance: float = TOLERANCE,
) -> list[Share] | None:
    """Of each panel; None where there is nobody, or nobody knits like those who began a panel.

    Either a panel has people of its own, of whom ``room`` (all for None) can work at once, or one
    person has it with other panels, one after the other. All of a panel, and those who began it,
    are at most ``tolerance`` apart; who has not measured fits everywhere. The slowest is done as
    soon as can be: exactly up to ``EXACT`` panels and people; else each panel, the largest first,
    goes to whoever has done it first. Where that leaves a choice, who began a panel keeps it. Whom
    it does not need helps the slowest panel with room.
    """
    if not people:
        return None
    fair = _Sharing(panels, people, room or len(people), tolerance)
    exact = max(len(panels), len(people)) <= EXACT
    teams = fair.best() if exact else fair.one_by_one()
    return None if teams is None else fair.told(fair.with_helpers(teams))


def alike(
    panels: Sequence[Panel],
    people: Sequence[Able],
    room: int | None = None,
    tolerance: float = TOLERANCE,
) -> list[frozenset[int]]:
    """Of each panel all who may knit on it: whose ``shares`` it is, and who knits as they do.

    Everybody where there are no such shares.
    """
    teams = shares(panels, people, room, tolerance)
    everybody = range(len(people))
    if teams is None:
        return [frozenset(everybody)] * len(panels)
    fair = _Sharing(panels, people, room or len(people), tolerance)
    found = []
    for panel, team in enumerate(teams):
        may = list(team.people)
        for who in sorted(set(everybody) - {*may}, key=lambda who: (people[who].days, who)):
            if fair.fits(panel, [*may, who]):
                may.append(who)
        found.append(frozenset(may))
    return found


Teams = list[tuple[int, ...]]  # by panel


class _Sharing:
    def __init__(
        self, panels: Sequence[Panel], people: Sequence[Able], room: int, tolerance: float
    ) -> None:
        self._panels, self._people = panels, people
        self._room, self._apart = room, 1 + tolerance + 1e-9

    def fits(self, panel: int, team: Sequence[int]) -> bool:
        told = [gauge for who in team if (gauge := self._people[who].gauge) is not None]
        gauges = [*told, *self._panels[panel].gauges]
        # Those who began it may be far apart already: only who comes is to fit them all.
        return all(max(a, b) <= min(a, b) * self._apart for a in told for b in gauges)

    def days(self, panel: int, team: Sequence[int]) -> float:
        speeds = sorted((1 / self._people[who].days for who in team), reverse=True)
        return self._panels[panel].work / sum(speeds[: self._room])

    def best(self) -> Teams | None:
        """The least of all days by which everything can be done, found by bisection."""
        panels, people = range(len(self._panels)), range(len(self._people))
        possible = {
            self.days(panel, team)
            for panel in panels
            for size in range(1, min(len(people), self._room) + 1)
            for team in combinations(people, size)
        } | {
            sum(self.days(panel, (who,)) for panel in some)
            for who in people
            for size in range(2, len(panels) + 1)
            for some in combinations(panels, size)
        }
        days = sorted(possible)
        low, high, found = 0, len(days), None
        while low < high:
            middle = (low + high) // 2
            teams = self.within(days[middle] * (1 + 1e-9))
            if teams is None:
                low = middle + 1
            else:
                high, found = middle, teams
        return found

    def within(self, days: float) -> Teams | None:
        """So that nothing takes longer than ``days``: searched through, the hopeless remembered."""
        everybody = frozenset(range(len(self._people)))

        @cache
        def search(left: frozenset[int], free: frozenset[int]) -> dict[int, tuple[int, ...]] | None:
            if not left:
                return {}
            panel = max(left, key=self._urgency)
            for team, done in self._choices(panel, left, free, days):
                rest = search(left - done, free - set(team))
                if rest is not None:
                    return rest | dict.fromkeys(done, team)
            return None

        found = search(frozenset(range(len(self._panels))), everybody)
        return None if found is None else [found[panel] for panel in range(len(self._panels))]

    def _urgency(self, panel: int) -> tuple[bool, float, int]:
        return bool(self._panels[panel].begun_by), self._panels[panel].work, -panel

    def _choices(
        self, panel: int, left: frozenset[int], free: frozenset[int], days: float
    ) -> Iterator[tuple[tuple[int, ...], frozenset[int]]]:
        """Teams for ``panel`` of whom nobody could be spared, and what else one alone could do.

        As much as one can do: nobody is worse off for a panel that is done.
        """
        begun_by = self._panels[panel].begun_by
        quick = sorted(free, key=lambda who: (who not in begun_by, self._people[who].days, who))
        for who in quick:
            if self.fits(panel, (who,)) and self.days(panel, (who,)) <= days:
                for more in self._fillings(who, sorted(left - {panel}), days, panel):
                    yield (who,), more | {panel}
        for size in range(2, min(len(quick), self._room) + 1):
            for team in combinations(quick, size):
                spared = any(
                    self.days(panel, team[:one] + team[one + 1 :]) <= days for one in range(size)
                )
                if not spared and self.days(panel, team) <= days and self.fits(panel, team):
                    yield team, frozenset({panel})

    def _fillings(
        self, who: int, others: Sequence[int], days: float, panel: int
    ) -> Iterator[frozenset[int]]:
        """The sets of ``others`` that ``who`` can do besides ``panel``; none could be added to."""
        able = [each for each in others if self.fits(each, (who,))]
        took = {each: self.days(each, (who,)) for each in (*able, panel)}
        sets: list[frozenset[int]] = []
        for size in range(len(able), -1, -1):
            for some in combinations(able, size):
                chosen = frozenset(some)
                if took[panel] + sum(took[each] for each in some) <= days and not any(
                    chosen < other for other in sets
                ):
                    sets.append(chosen)
                    yield chosen

    def one_by_one(self) -> Teams | None:
        """Each panel, the largest first, to whoever has done it first with all before."""
        busy = [0.0] * len(self._people)
        found: dict[int, tuple[int, ...]] = {}
        for panel in sorted(range(len(self._panels)), key=lambda each: -self._panels[each].work):
            able = [who for who in range(len(busy)) if self.fits(panel, (who,))]
            if not able:
                return None
            begun_by = self._panels[panel].begun_by
            who = min(
                able,
                key=lambda each: (busy[each] + self.days(panel, (each,)), each not in begun_by),
            )
            busy[who] += self.days(panel, (who,))
            found[panel] = (who,)
        return [found[panel] for panel in range(len(self._panels))]

    def with_helpers(self, teams: Teams) -> Teams:
        """Who has nothing, the quickest first, helps the slowest panel that they fit."""
        teams = list(teams)
        idle = set(range(len(self._people))) - {who for team in teams for who in team}
        for who in sorted(idle, key=lambda each: (self._people[each].days, each)):
            alone = [
                panel
                for panel, team in enumerate(teams)
                if len(team) < self._room
                and teams.count(team) == 1
                and self.fits(panel, (*team, who))
            ]
            if alone:
                slowest = max(alone, key=lambda panel: self.days(panel, teams[panel]))
                teams[slowest] = (*teams[slowest], who)
        return teams

    def told(self, teams: Teams) -> list[Share]:
        days = [self.days(panel, team) for panel, team in enumerate(teams)]
        return [
            Share(team, sum(days[panel] for panel, other in enumerate(teams) if other == team))
            for team in teams
        ]
