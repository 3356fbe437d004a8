"""What is to be shared out among whom. All times are in days from now."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from drives.craft.forecast.situation import Meetings


class Job(NamedTuple):
    """A square to be knitted; ``units``: its work in squares of one unit.

    ``stands_on``: jobs that must be finished before. ``pieces``: those that it is worked on and
    that have no room for everybody. ``barred``: knitters who shall not have it.
    """

    units: float
    stands_on: tuple[int, ...] = ()
    pieces: tuple[int, ...] = ()
    barred: frozenset[int] = frozenset()


class Hands(NamedTuple):
    """A knitter: ``days`` for a square of one unit, and stretches in order that they are ``away``.

    ``days`` are expected; ``spread`` and ``doubt`` as in ``Days``. Away for good is a stretch that
    ends at ``inf``. ``free``: from when on they have time. ``rest``: days until the next square.
    """

    days: float
    away: tuple[tuple[float, float], ...] = ()
    spread: float = 0.0
    doubt: float = 0.0
    free: float = 0.0
    rest: float = 0.0


class Begun(NamedTuple):
    """A job that ``knitter`` has in hand, and when it will be finished."""

    job: int
    knitter: int
    ends: float


class Planned(NamedTuple):
    """A job that ``knitter`` is to begin on that ``day``, or as soon after it as can be."""

    knitter: int
    day: float


@dataclass(frozen=True)
class Passing:
    """A piece is with somebody else ``days`` after it is free, or at the next of the meetings."""

    days: float = 0.0
    meetings: Meetings | None = None

    def there(self, free: float) -> float:
        return self.meetings.after(free) if self.meetings else free + self.days


@dataclass(frozen=True)
class Task:
    """``holders``: who has each piece, None where it goes to whoever begins on it.

    ``room``: for how many people at once each piece has room. ``passing``: how a piece changes
    hands; None where they lie with the circle. Of ``begun`` jobs of one knitter the first comes
    first. Jobs stand on jobs before them in the list. ``wanted``: by when all is to be finished.
    ``planned``: jobs that are given out already, by number; nothing else comes in their way.
    ``meets``: where squares are only taken and brought when all meet; ``limit``: how many one may
    have in hand then.
    """

    jobs: Sequence[Job]
    knitters: Sequence[Hands]
    holders: Sequence[int | None] = ()
    room: int = 1
    passing: Passing | None = None
    begun: Sequence[Begun] = ()
    wanted: float | None = None
    planned: Mapping[int, Planned] = field(default_factory=dict)
    meets: Meetings | None = None
    limit: int = 1

    @cached_property
    def open(self) -> list[int]:
        """The jobs that nobody has begun."""
        begun = {each.job for each in self.begun}
        return [job for job in range(len(self.jobs)) if job not in begun]

    @cached_property
    def carries(self) -> list[list[int]]:
        carries: list[list[int]] = [[] for _ in self.jobs]
        for job, (_, stands_on, _, _) in enumerate(self.jobs):
            for support in stands_on:
                carries[support].append(job)
        return carries

    @cached_property
    def able(self) -> list[list[int]]:
        """By job: who may have it."""
        people = range(len(self.knitters))
        return [
            [self.planned[number].knitter]
            if number in self.planned
            else [who for who in people if who not in job.barred]
            for number, job in enumerate(self.jobs)
        ]

    @cached_property
    def hands(self) -> set[int]:
        """Who may have anything at all."""
        return {who for job in self.open for who in self.able[job]}

    @cached_property
    def days(self) -> list[list[float]]:
        """By knitter and job: the days of work."""
        return [[hands.days * job.units for job in self.jobs] for hands in self.knitters]

    @cached_property
    def chain(self) -> list[int]:
        """By job: the jobs in the longest chain that begins with it."""
        chain = [1] * len(self.jobs)
        for job in reversed(range(len(self.jobs))):
            for above in self.carries[job]:
                chain[job] = max(chain[job], 1 + chain[above])
        return chain

    @cached_property
    def least(self) -> list[float]:
        """By job: the days from its beginning to the end of its longest chain, in quick hands."""
        least = [0.0] * len(self.jobs)
        for job in reversed(range(len(self.jobs))):
            days = min((self.days[who][job] for who in self.able[job]), default=0.0)
            least[job] = days + max((least[above] for above in self.carries[job]), default=0.0)
        return least

    @cached_property
    def rank(self) -> list[float]:
        """The same in the hands of those who may have them, on average (Topcuoglu's rank)."""
        rank = [0.0] * len(self.jobs)
        for job in reversed(range(len(self.jobs))):
            able = self.able[job]
            days = sum(self.days[who][job] for who in able) / max(len(able), 1)
            rank[job] = days + max((rank[above] for above in self.carries[job]), default=0.0)
        return rank
