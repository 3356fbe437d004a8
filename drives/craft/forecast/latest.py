"""The latest day to begin each square, so that the wanted day still holds.

The backward pass of the critical path method (Kelley and Walker, Critical-path planning and
scheduling, 1959) over a run as it was played: who knits what, and in which order, stays as it was
in that run; what may move is when. Over many runs that gives a day that is early enough with a
wanted probability.
"""

from array import array
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import inf
from statistics import median
from typing import NamedTuple

from drives.craft.places import Place

from .forecast import quantile
from .prepared import Prepared
from .run import Run
from .situation import Travelling, present


class Latest(NamedTuple):
    """When to begin the square at ``place`` at the latest, in days from now; ``-inf`` is too late.

    ``expected``: when it is begun, in the middle of all runs. ``half``, ``sure``: when it must be
    begun so that the wanted day holds with 50 % and with 90 %. ``slack``: by how many days it can
    be begun later than it is, in the middle of all runs; less than nothing where time is short.
    """

    place: Place
    expected: float
    half: float
    sure: float
    slack: float


def latest(runs: Iterable[Run], wanted: float) -> list[Latest]:
    """Of each square that nobody has begun, the first to begin first.

    ``wanted``: the days from now within which all is to be finished.
    """
    begun: defaultdict[Place, array[float]] = defaultdict(lambda: array("d"))
    moments: defaultdict[Place, array[float]] = defaultdict(lambda: array("d"))
    in_hand: set[Place] = set()
    for run in runs:
        prepared, week = run.prepared, run.prepared.week
        in_hand = {each.place for each in prepared.situation.in_hand}
        begins = latest_begins(run, week.knitting(wanted))
        for square, moment in enumerate(begins[: prepared.left]):
            place = prepared.places[square]
            moments[place].append(week.day(moment))
            begun[place].append(week.day(run.since(square)))
    found = []
    for place in moments.keys() - in_hand:
        slacks = [
            -inf if moment == -inf else moment - since
            for moment, since in zip(moments[place], begun[place], strict=True)
        ]
        ordered, when = sorted(moments[place]), median(begun[place])
        # Early enough in nine of ten runs is what is reached by the earliest tenth of them.
        sure = ordered[len(ordered) - 1 - _rank(0.9, len(ordered))]
        half = ordered[len(ordered) - 1 - _rank(0.5, len(ordered))]
        found.append(Latest(place, when, half, sure, quantile(sorted(slacks), 0.5)))
    return sorted(found, key=lambda each: (each.sure, each.half, each.place))


def _rank(share: float, count: int) -> int:
    """The index of ``quantile`` in as many."""
    return int(quantile(range(count), share))


def latest_begins(run: Run, wanted: float) -> list[float]:
    """By square: when it can be begun at the latest so that this run ends by ``wanted``.

    Each has what comes before it: the squares that it stands on, the one that its knitter had
    before, and who made room on its piece. Its waiting for the piece is kept. All are -inf where
    the run has no end.
    """
    squares = len(run.who)
    if run.days == inf:
        return [-inf] * squares
    before = _before(run)
    meetings = _meetings(run.prepared, max(wanted, run.days))
    ends, begins = [wanted] * squares, [wanted] * squares
    for square in reversed(run.order):
        away = run.prepared.away[run.who[square]]
        days = present(run.since(square), run.ended[square], away)
        begins[square] = begin = latest_start(ends[square], days, away)
        given = begin - (run.since(square) - run.given[square])
        if run.given[square] in meetings:  # it changes hands when people meet, or not at all
            index = bisect_right(meetings, given)
            given = begins[square] = meetings[index - 1] if index else -inf
        for other in before[square]:
            rest = run.rest.get(other, 0.0) if run.who[other] == run.who[square] else 0.0
            ends[other] = min(ends[other], given - rest)
    return begins


def latest_start(end: float, days: float, away: Sequence[tuple[float, float]]) -> float:
    """When ``days`` of work begin at the latest that are done by ``end``, with pauses."""
    for leaves, returns in reversed(away):
        if end - days >= returns:
            break
        if end > leaves:
            days -= max(end - returns, 0.0)
            end = leaves
    return end - days


def _meetings(prepared: Prepared, until: float) -> list[float]:
    mode = prepared.works[0].mode
    meetings = mode.meetings if isinstance(mode, Travelling) else None
    found: list[float] = []
    while meetings and (found[-1] if found else 0.0) < until:
        found.append(meetings.after(found[-1] if found else 0.0))
    return found


def _before(run: Run) -> list[set[int]]:
    """By square: those that must be finished before it is given out."""
    prepared, squares = run.prepared, len(run.who)
    before: list[set[int]] = [set() for _ in range(squares)]
    for square, carries in enumerate(prepared.carries):
        for above in carries:
            before[above].add(square)
    last: dict[int, int] = {}
    room = _Room(prepared)
    for square in sorted(run.order, key=lambda each: (run.given[each], each)):
        who = run.who[square]
        if who in last:
            before[square].add(last[who])
        last[who] = square
        before[square] |= room.made_by(square, run, before[square])
    return before


class _Room:
    """Who made room for whom on each piece: the places on it, handed from square to square.

    A place is the square that had it last, or None where nobody has had it yet.
    """

    def __init__(self, prepared: Prepared) -> None:
        self._prepared = prepared
        self._root = list(range(len(prepared.first)))
        self._places: dict[int, list[int | None]] = {}

    def made_by(self, square: int, run: Run, known: set[int]) -> set[int]:
        """The squares whose end ``square`` had to wait for, rather one of the ``known``."""
        room = self._prepared.room[self._prepared.piece[square]]
        if room > len(self._prepared.places):
            return set()
        pieces = (self._prepared.piece[square], *self._prepared.joins[square])
        first, *others = dict.fromkeys(map(self._whole, pieces))
        places = self._places.setdefault(first, [None] * room)
        for other in others:
            self._root[other] = first
            places += self._places.pop(other, [None] * room)
        given = run.given[square]

        def order(each: int | None) -> tuple[int, float]:
            """Free places first, then whom it waits for anyway, then what ended first."""
            if each is None:
                return 0, 0.0
            if run.ended[each] > given:
                return 3, run.ended[each]
            return 1 if each in known else 2, run.ended[each]

        places.sort(key=order)
        # Of several pieces that become one, more places than there is room for are closed.
        taken = len(places) - room + 1
        waited = {each for each in places[:taken] if each is not None and run.ended[each] <= given}
        places[:taken] = [square]
        return waited

    def _whole(self, piece: int) -> int:
        while self._root[piece] != piece:
            piece = self._root[piece]
        return piece
