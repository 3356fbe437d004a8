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
from typing import NamedTuple

from drives.craft.places import Place

from .draws import Draw
from .fabrics import Fabrics
from .history import MOMENT
from .luck import Luck
from .normal import beyond
from .prepared import Prepared
from .situation import after, present

HELD = 21.0  # days after which a square that is not finished is free again, if nobody says


class Knitted(NamedTuple):
    """One square of a run: given to ``knitter`` (an index), in hand and worked ``since``."""

    place: Place
    knitter: int
    given: float
    since: float
    ended: float


class Run:
    """``given``, ``ended`` and ``who`` are by square; ``order`` is that of finishing.

    ``hand_overs``: how often pieces of the blanket changed hands; never where they live with the
    circle. ``delay``: the days from given to begun, where there are any. ``idle``, ``full``:
    whether, when a square was finished, somebody had been without work, and else, whether its
    piece was full.
    ``rested``: who came back from a rest, and when; ``rest``: days of it after a square. With a
    ``draw`` people rest, leave, and give squares up as it says, and whoever is free is as likely
    as another to take the next one.
    """

    def __init__(self, prepared: Prepared, random: Random, draw: Draw | None = None) -> None:
        self.prepared = prepared
        squares, people = len(prepared.places), len(prepared.people)
        self.given = [inf] * squares
        self.ended = [inf] * squares
        self.who = [-1] * squares
        self.delay: dict[int, float] = {}
        self.hand_overs = 0
        self.order: list[int] = []
        self.idle = bytearray(squares)
        self.full = bytearray(squares)
        self.rested: set[tuple[int, float]] = set()
        self.rest: dict[int, float] = {}
        self._fabrics = Fabrics(prepared)
        self._parked: dict[int, list[int]] = {}  # ready squares behind another one of their piece
        self._kept: dict[int, int] = {}  # squares that only one knitter may take
        self._ready: list[list[int]] = [[] for _ in prepared.works]
        self._free: list[int] = []  # the quickest last
        self._gone: set[int] = set()  # who would be free, but is away or rests
        self._until = [0.0] * people  # when a rest is over
        self._done = [0] * people
        self._here = people
        # A square's end, or beyond the squares, its giving up; or somebody (~knitter) leaves or
        # comes back; or, beyond the people, all meet over a blanket.
        self._events: list[tuple[float, int]] = []
        self._meeting = [-inf] * len(prepared.works)  # the one that was called last
        self._random = random
        self._luck = Luck(prepared, random, draw)
        self._draw = draw
        self._start()
        self._play()

    @property
    def days(self) -> float:
        """Until the last square of the blanket is finished; ``inf`` when that is never."""
        return max(self.ended[: self.prepared.left], default=0.0)

    @property
    def end(self) -> float:
        """The same as a calendar day."""
        return self.prepared.week.day(self.days)

    def finishes(self) -> list[float]:
        """The calendar days on which squares of the blanket were finished, ascending."""
        ended, left, week = self.ended, self.prepared.left, self.prepared.week
        moments = [ended[square] for square in self.order if square < left]
        return moments if week.even and not week.start else [week.day(each) for each in moments]

    def knitted(self) -> Iterator[Knitted]:
        """Every square of the blanket that was finished, in that order."""
        for square in self.order:
            if square < self.prepared.left:
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

    def _start(self) -> None:
        """The squares in hand go on; who is left is free, rests, is away, or has left."""
        prepared, draw = self.prepared, self._draw
        working = set()
        if draw:
            self._done = [draw.done[who] for who in prepared.people]
            self._until = [draw.free[who] for who in prepared.people]
            self._here -= self._until.count(inf)
        in_hand = [
            (each, number) for number, work in enumerate(prepared.works) for each in work.in_hand
        ]
        for each, number in sorted(in_hand, key=lambda pair: pair[0].begun):
            square, knitter = prepared.index[number, each.place], prepared.rank[each.knitter]
            if knitter in working:
                self._kept[square] = knitter
                continue
            working.add(knitter)
            self._take(square, knitter, 0.0)
            self.delay[square] = max(each.begun, 0.0)
            if draw and draw.drops[each.knitter]:
                back = each.lapses if each.lapses < inf else each.begun + HELD
                self._events.append((max(back, 0.0), len(prepared.places) + square))
                continue
            done = present(each.begun, 0.0, prepared.away[knitter])
            end = after(each.begun, self._at_least(done, square, knitter), prepared.away[knitter])
            self._events.append((self._noted(max(end, 0.0)), square))
        for knitter, away in enumerate(prepared.away):
            for moment in {moment for stretch in away for moment in stretch if 0 < moment < inf}:
                self._events.append((moment, ~knitter))
            if knitter not in working:
                self._release(knitter, 0.0)
                if 0 < self._until[knitter] < inf:
                    self._until[knitter] = self._noted(self._until[knitter])
                    self._events.append((self._until[knitter], ~knitter))
        heapify(self._events)

    def _noted(self, moment: float) -> float:
        """``moment``, or the next meeting where people wait for one."""
        meets = self.prepared.situation.meets
        return meets.after(moment - MOMENT) if meets and moment < inf else moment

    def _days(self, square: int, knitter: int) -> float:
        luck, units = self._luck, self.prepared.units[square]
        days = luck.median[knitter] * units * exp(luck.spread[knitter] * luck.normal[square])
        return days * self._lesson(knitter) if self._draw else days

    def _lesson(self, knitter: int) -> float:
        """How much longer a square takes since it is among somebody's first."""
        assert self._draw
        return exp(self._draw.paces.lesson / (1 + self._done[knitter]))

    def _at_least(self, done: float, square: int, knitter: int) -> float:
        """The days of a square of which it is known that ``done`` days were not enough."""
        luck, days = self._luck, self._days(square, knitter)
        spread, value = luck.spread[knitter], luck.normal[square]
        if not spread or done <= 0:
            return max(done, days)
        median = days / exp(spread * value)
        return max(done, median * exp(spread * beyond(log(done / median) / spread, value)))

    def _play(self) -> None:
        prepared, room = self.prepared, self.prepared.room
        carries, piece, away = prepared.carries, prepared.piece, prepared.away
        units, blanket = prepared.units, prepared.blanket
        median, spread, normal = self._luck.median, self._luck.spread, self._luck.normal
        root, busy, parked = self._fabrics.root, self._fabrics.busy, self._parked
        free, events, readies = self._free, self._events, self._ready
        given, ended, who = self.given, self.ended, self.who
        was_idle, was_full = self.idle, self.full
        unmet, finished, left = list(prepared.unmet), self.order.append, prepared.left
        squares, mine, draw = len(prepared.places), prepared.left, self._draw
        for square, count in enumerate(unmet):
            if not count and who[square] < 0:
                readies[blanket[square]].append(square)
        simple = prepared.simple and not self._kept and not draw
        ready = readies[0]
        now = 0.0
        while True:
            if not simple:
                self._assign(now)
            else:  # the same, in few steps: this is where the time goes
                while free and ready:
                    square = heappop(ready)
                    label = piece[square]
                    if busy[label] >= room[label]:
                        self._park(label, square)
                        continue
                    busy[label] += 1
                    knitter = who[square] = free.pop()
                    given[square] = now
                    days = median[knitter] * units[square] * exp(spread[knitter] * normal[square])
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
                elif square >= squares:
                    self._give_up(square - squares, now)
                else:
                    ended[square] = now
                    finished(square)
                    left -= square < mine
                    label = piece[square]
                    while root[label] != label:
                        label = root[label]
                    count = busy[label]
                    busy[label] = count - 1
                    if idle:
                        was_idle[square] = True
                    elif count >= room[label]:
                        was_full[square] = True
                    if behind := parked.get(label):
                        heappush(readies[blanket[square]], heappop(behind))
                    knitter = who[square]
                    if draw:
                        self._rest(square, knitter, now)
                    elif away[knitter]:
                        self._release(knitter, now)
                    else:
                        insort(free, knitter)
                    for above in carries[square]:
                        count = unmet[above] = unmet[above] - 1
                        if not count:
                            heappush(readies[blanket[above]], above)
                if not events or events[0][0] > now:
                    break
                square = heappop(events)[1]

    def _rest(self, square: int, knitter: int, now: float) -> None:
        """After a square: stop for good (but not the last who is there), or rest for a while."""
        self._done[knitter] += 1
        rest = self._luck.rest[square]
        if self._luck.leaves[square] and self._here > 1:
            self._here -= 1
            rest = inf
        elif rest:
            self.rest[square] = rest
        self._stay_away(knitter, now, rest)

    def _stay_away(self, knitter: int, now: float, days: float) -> None:
        until = self._until[knitter] = self._noted(now + days)
        if now < until < inf:
            heappush(self._events, (until, ~knitter))
        self._release(knitter, now)

    def _give_up(self, square: int, now: float) -> None:
        """A square is not finished: it waits for somebody else, and its knitter may not return."""
        assert self._draw
        knitter, self.who[square] = self.who[square], -1
        label = self._fabrics.whole(self.prepared.piece[square])
        self._fabrics.busy[label] -= 1
        for kept in [kept for kept, keeper in self._kept.items() if keeper == knitter]:
            del self._kept[kept]
        heappush(self._ready[self.prepared.blanket[square]], square)
        if behind := self._parked.get(label):
            heappush(self._ready[self.prepared.blanket[square]], heappop(behind))
        stops = self._here > 1 and self._random.random() < self._draw.stopping
        self._here -= stops
        self._stay_away(knitter, now, inf if stops else self._luck.rest[square])

    def _release(self, knitter: int, now: float) -> None:
        away = self.prepared.away[knitter]
        if now < self._until[knitter] or any(leaves <= now < returns for leaves, returns in away):
            self._gone.add(knitter)
        elif self._draw:
            self._free.insert(int(self._random.random() * (len(self._free) + 1)), knitter)
        else:
            insort(self._free, knitter)

    def _look(self, knitter: int, now: float) -> None:
        """Somebody leaves, or comes back; who is at work takes it along. Or the circle meets."""
        if knitter >= len(self.prepared.people):
            self._meeting[knitter - len(self.prepared.people)] = now
        elif knitter in self._gone:
            self._gone.remove(knitter)
            self._release(knitter, now)
            if now == self._until[knitter]:
                self.rested.add((knitter, now))
        elif knitter in self._free:
            self._free.remove(knitter)
            self._release(knitter, now)

    def _park(self, piece: int, square: int) -> None:
        """Put a ready square behind the others of its piece until there is room."""
        heappush(self._parked.setdefault(piece, []), square)

    def _next(self) -> int:
        """The best square of some blanket, or -1: where several wait, people have a choice."""
        ready = [heap for heap in self._ready if heap]
        if len(ready) < 2:
            return heappop(ready[0]) if ready else -1
        shares = self.prepared.shares
        weights = [share for share, heap in zip(shares, self._ready, strict=True) if heap]
        return heappop(self._random.choices(ready, weights)[0])

    def _back(self, square: int) -> None:
        heappush(self._ready[self.prepared.blanket[square]], square)

    def _assign(self, now: float) -> None:
        """Give ready squares to free people: first without hand-overs, then with them."""
        given = True
        while given:
            given = False
            for square in self._without_hand_overs(now):
                pieces = self._fabrics.under(square)
                travelling = self.prepared.travelling[square]
                who = self._fabrics.receiver(pieces, self._free, self._kept.get(square))
                if travelling and not travelling.turn and self._waited_for(pieces, now):
                    who = -1
                number = self.prepared.blanket[square]
                if not travelling or who < 0:
                    self._back(square)
                elif not travelling.meetings or self._meeting[number] == now:
                    by_post = not travelling.meetings and self._fabrics.needed(pieces, who)
                    self._give(square, who, now, self._luck.post[square] if by_post else 0.0)
                    given = True
                else:
                    self._back(square)
                    if self._meeting[number] < now:
                        self._meeting[number] = travelling.meetings.after(now)
                        people = len(self.prepared.people)
                        heappush(self._events, (self._meeting[number], ~(people + number)))

    def _waited_for(self, pieces: list[int], now: float) -> bool:
        """Whether somebody who keeps one of ``pieces`` rests, and will go on with it."""
        hands, away = self._fabrics.hands, self.prepared.away
        for who in {who for piece in pieces for who in hands[piece]} & self._gone:
            until = max(self._until[who], now)
            if until < inf and not any(leaves <= until < returns for leaves, returns in away[who]):
                return True
        return False

    def _without_hand_overs(self, now: float) -> list[int]:
        """Begin what can be begun at once; the others, at most one a piece, by priority."""
        later, seen = [], set()
        while self._free and (square := self._next()) >= 0:
            pieces = self._fabrics.under(square)
            keeper = self._kept.get(square)
            if self._fabrics.busy[pieces[0]] >= self.prepared.room[pieces[0]]:
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
        end = after(now + delay, self._days(square, knitter), self.prepared.away[knitter])
        if self._draw and self._luck.gives_up[square]:
            self._luck.gives_up[square] = False  # once
            heappush(self._events, (now + delay + HELD, len(self.prepared.places) + square))
        else:
            heappush(self._events, (self._noted(end), square))
        behind = self._parked.get(piece)
        if behind and self._fabrics.busy[piece] < self.prepared.room[piece]:
            self._back(heappop(behind))

    def _take(self, square: int, knitter: int, now: float) -> int:
        """The square is in hand: the piece that it belongs to."""
        self.who[square], self.given[square] = knitter, now
        piece, *others = pieces = self._fabrics.under(square)
        if not self.prepared.blanket[square]:
            self.hand_overs += self._fabrics.needed(pieces, knitter)
        self._fabrics.begin(pieces, knitter, idle=[*self._free, *self._gone])
        for other in others:
            for parked in self._parked.pop(other, ()):
                self._park(piece, parked)
        return piece
