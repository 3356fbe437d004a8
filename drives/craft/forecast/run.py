"""One run of a forecast: the plan played through by the rules, with chance in the paces.

List scheduling (Graham, Bounds on Multiprocessing Timing Anomalies, SIAM J. Appl. Math. 1969):
whoever is free takes the ready square with the longest chain still to come, if its piece has room
for one more. Where pieces travel, what can be begun without a hand-over goes first; a hand-over is
asked for only by somebody who would otherwise have nothing to do, and begins at once, also when
the giver is away (pieces are left with somebody). Such a schedule is not always the best: one more
knitter can make it longer (the anomalies of Graham's title), as it can among people.
"""

from bisect import insort
from collections.abc import Iterator
from heapq import heapify, heappop, heappush
from math import exp, inf, log
from random import Random
from statistics import NormalDist
from typing import NamedTuple

from drives.craft.places import Place

from .fabrics import Fabrics
from .normal import beyond
from .prepared import Prepared
from .situation import after, present

_NORMAL = NormalDist()
# Equally likely values of the normal distribution: choosing is several times as quick as gauss().
_LUCK = [_NORMAL.inv_cdf((number + 0.5) / 4096) for number in range(4096)]


class Knitted(NamedTuple):
    """One square of a run: given to ``knitter`` (an index), in hand and worked ``since``."""

    place: Place
    knitter: int
    given: float
    since: float
    ended: float


class Run:
    """``given``, ``ended`` and ``who`` are by square; ``order`` is that of finishing.

    ``delay``: the days from given to begun, where there are any. ``idle``, ``full``: whether, when
    a square was finished, somebody had been without work, and else, whether its piece was full.
    """

    def __init__(self, prepared: Prepared, random: Random) -> None:
        self.prepared = prepared
        squares = len(prepared.places)
        self.given = [inf] * squares
        self.ended = [inf] * squares
        self.who = [-1] * squares
        self.delay: dict[int, float] = {}
        self.order: list[int] = []
        self.idle = bytearray(squares)
        self.full = bytearray(squares)
        self._fabrics = Fabrics(prepared)
        self._parked: dict[int, list[int]] = {}  # ready squares behind another one of their piece
        self._kept: dict[int, int] = {}  # squares that only one knitter may take
        self._ready: list[int] = []
        self._free: list[int] = []  # the quickest last
        self._gone: set[int] = set()  # who would be free, but is away
        # A square's end; or somebody (~knitter) leaves or comes back; or, one beyond, all meet.
        self._events: list[tuple[float, int]] = []
        self._meeting = -inf  # the one that was called last
        self._draw(random)
        self._start()
        self._play()

    @property
    def days(self) -> float:
        """Until the last square is finished; ``inf`` when that is never."""
        return max(self.ended, default=0.0)

    def knitted(self) -> Iterator[Knitted]:
        """Every square that was finished, in that order."""
        for square in self.order:
            yield Knitted(
                self.prepared.places[square],
                self.prepared.people[self.who[square]],
                self.given[square],
                self.since(square),
                self.ended[square],
            )

    def since(self, square: int) -> float:
        """When a square was begun; 0 where it was in hand already."""
        return self.given[square] + self.delay.get(square, 0.0)

    def one_piece(self, square: int, other: int) -> bool:
        """Whether two squares are of one piece at the end of the run."""
        piece, whole = self.prepared.piece, self._fabrics.whole
        return whole(piece[square]) == whole(piece[other])

    def _draw(self, random: Random) -> None:
        """Chance, in an order in which one more knitter changes nobody else's."""
        prepared = self.prepared
        luck = random.choices(_LUCK, k=prepared.lots)
        self._luck = [luck[lot] for lot in prepared.lot]
        if prepared.travelling:
            days = prepared.travelling.hand_over
            median = days.median * exp(days.doubt * random.choice(_LUCK))
            luck = random.choices(_LUCK, k=prepared.lots)
            self._post = [median * exp(days.spread * luck[lot]) for lot in prepared.lot]
        doubts = random.choices(_LUCK, k=len(prepared.people))
        self._median = [
            pace.median * exp(pace.doubt * doubts[who])
            for pace, who in zip(prepared.pace, prepared.people, strict=True)
        ]

    def _start(self) -> None:
        """The squares in hand go on; who is left is free, or away."""
        prepared = self.prepared
        working = set()
        for place, who, begun in sorted(prepared.situation.in_hand, key=lambda each: each.begun):
            square, knitter = prepared.index[place], prepared.rank[who]
            if knitter in working:
                self._kept[square] = knitter
                continue
            working.add(knitter)
            self._take(square, knitter, 0.0)
            self.delay[square] = max(begun, 0.0)
            done = present(begun, 0.0, prepared.away[knitter])
            end = after(begun, self._at_least(done, square, knitter), prepared.away[knitter])
            self._events.append((max(end, 0.0), square))
        for knitter, away in enumerate(prepared.away):
            for moment in {moment for stretch in away for moment in stretch if 0 < moment < inf}:
                self._events.append((moment, ~knitter))
            if knitter not in working:
                self._release(knitter, 0.0) if away else self._free.append(knitter)
        heapify(self._events)

    def _at_least(self, done: float, square: int, knitter: int) -> float:
        """The days of a square of which it is known that ``done`` days were not enough."""
        median = self._median[knitter] * self.prepared.work[square]
        spread, luck = self.prepared.pace[knitter].spread, self._luck[square]
        if not spread or done <= 0:
            return max(done, median * exp(spread * luck))
        return max(done, median * exp(spread * beyond(log(done / median) / spread, luck)))

    def _play(self) -> None:
        prepared, at_once = self.prepared, self.prepared.at_once
        carries, piece, away = prepared.carries, prepared.piece, prepared.away
        work, median, luck = prepared.work, self._median, self._luck
        spread = [pace.spread for pace in prepared.pace]
        root, busy, parked = self._fabrics.root, self._fabrics.busy, self._parked
        free, events, ready = self._free, self._events, self._ready
        given, ended, who = self.given, self.ended, self.who
        was_idle, was_full = self.idle, self.full
        unmet, finished, left = list(prepared.unmet), self.order.append, len(prepared.places)
        ready += [square for square, count in enumerate(unmet) if not count and who[square] < 0]
        simple = prepared.simple and not self._kept
        now = 0.0
        while True:
            if not simple:
                self._assign(now)
            else:  # the same, in few steps: this is where the time goes
                while free and ready:
                    square = heappop(ready)
                    label = piece[square]
                    if busy[label] >= at_once:
                        self._park(label, square)
                        continue
                    busy[label] += 1
                    knitter = who[square] = free.pop()
                    given[square] = now
                    days = median[knitter] * work[square] * exp(spread[knitter] * luck[square])
                    end = after(now, days, away[knitter]) if away[knitter] else now + days
                    heappush(events, (end, square))
            if not left or not events:
                return
            idle = bool(free)
            now, square = heappop(events)
            if now == inf:
                return
            while True:  # all that happens at the same moment
                if square < 0:
                    self._look(~square, now)
                else:
                    ended[square] = now
                    finished(square)
                    left -= 1
                    label = piece[square]
                    while root[label] != label:
                        label = root[label]
                    count = busy[label]
                    busy[label] = count - 1
                    if idle:
                        was_idle[square] = True
                    elif count >= at_once:
                        was_full[square] = True
                    if behind := parked.get(label):
                        heappush(ready, heappop(behind))
                    knitter = who[square]
                    if away[knitter]:
                        self._release(knitter, now)
                    else:
                        insort(free, knitter)
                    for above in carries[square]:
                        count = unmet[above] = unmet[above] - 1
                        if not count:
                            heappush(ready, above)
                if not events or events[0][0] > now:
                    break
                square = heappop(events)[1]

    def _release(self, knitter: int, now: float) -> None:
        if any(leaves <= now < returns for leaves, returns in self.prepared.away[knitter]):
            self._gone.add(knitter)
        else:
            insort(self._free, knitter)

    def _look(self, knitter: int, now: float) -> None:
        """Somebody leaves, or comes back; who is at work takes it along. Or the circle meets."""
        if knitter == len(self.prepared.people):
            self._meeting = now
        elif knitter in self._gone:
            self._gone.remove(knitter)
            self._release(knitter, now)
        elif knitter in self._free:
            self._free.remove(knitter)
            self._release(knitter, now)

    def _park(self, piece: int, square: int) -> None:
        """Put a ready square behind the others of its piece until there is room."""
        heappush(self._parked.setdefault(piece, []), square)

    def _assign(self, now: float) -> None:
        """Give ready squares to free people: first without hand-overs, then with them."""
        travelling, given = self.prepared.travelling, True
        while given:
            given = False
            for square in self._without_hand_overs(now):
                pieces = self._fabrics.under(square)
                who = self._fabrics.receiver(pieces, self._free, self._kept.get(square))
                if not travelling or who < 0:
                    heappush(self._ready, square)
                elif not travelling.meetings or self._meeting == now:
                    by_post = not travelling.meetings and self._fabrics.needed(pieces, who)
                    self._give(square, who, now, self._post[square] if by_post else 0.0)
                    given = True
                else:
                    heappush(self._ready, square)
                    if self._meeting < now:
                        self._meeting = travelling.meetings.after(now)
                        heappush(self._events, (self._meeting, ~len(self.prepared.people)))

    def _without_hand_overs(self, now: float) -> list[int]:
        """Begin what can be begun at once; the others, at most one a piece, by priority."""
        later, seen = [], set()
        while self._free and self._ready:
            square = heappop(self._ready)
            pieces = self._fabrics.under(square)
            keeper = self._kept.get(square)
            if self._fabrics.busy[pieces[0]] >= self.prepared.at_once:
                self._park(pieces[0], square)
            elif (knitter := self._fabrics.at_hand(pieces, self._free, keeper)) >= 0:
                self._give(square, knitter, now)
            elif keeper is None and len(pieces) == 1 and pieces[0] in seen:
                self._park(pieces[0], square)
            else:
                if keeper is None and len(pieces) == 1:
                    seen.add(pieces[0])
                later.append(square)
        return later

    def _give(self, square: int, knitter: int, now: float, delay: float = 0.0) -> None:
        self._free.remove(knitter)
        piece = self._take(square, knitter, now)
        if delay:
            self.delay[square] = delay
        pace = self.prepared.pace[knitter]
        days = (
            self._median[knitter]
            * self.prepared.work[square]
            * exp(pace.spread * self._luck[square])
        )
        heappush(self._events, (after(now + delay, days, self.prepared.away[knitter]), square))
        behind = self._parked.get(piece)
        if behind and self._fabrics.busy[piece] < self.prepared.at_once:
            heappush(self._ready, heappop(behind))

    def _take(self, square: int, knitter: int, now: float) -> int:
        """The square is in hand: the piece that it belongs to."""
        self.who[square], self.given[square] = knitter, now
        piece, *others = pieces = self._fabrics.under(square)
        self._fabrics.begin(pieces, knitter, idle=[*self._free, *self._gone])
        for other in others:
            for parked in self._parked.pop(other, ()):
                self._park(piece, parked)
        return piece
