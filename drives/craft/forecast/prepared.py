"""What all runs of a forecast share: a situation as plain lists, so that a run takes a millisecond.

Squares are numbered blanket by blanket, the one that is asked about first; in each by priority,
the longest chain still to come first. Knitters are numbered by pace, the slowest first, since the
end of a list is its cheap end; pieces by the square that begins them, or, for fabrics that are
there already, by a number beyond the squares.
"""

from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .situation import Situation, Travelling, Work
from .week import Week


class Prepared:
    """Lists by number, unless they say otherwise. ``left``: unfinished squares of the blanket."""

    def __init__(self, situation: Situation, week: Week | None = None) -> None:
        self.situation = situation
        self.week = week or Week()  # runs are in days of its knitting
        self.works = situation.works
        self.places: list[Place] = []
        self.blanket: list[int] = []  # by square: the number of its work
        self.index: dict[tuple[int, Place], int] = {}
        self.units: list[float] = []
        self.carries: list[list[int]] = []
        self.unmet: list[int] = []
        self.lot: list[int] = []
        self.lots = 0
        for number, work in enumerate(self.works):
            self._number_squares(number, work)
        self.shares = situation.shares or [1.0] * len(self.works)
        self.left = sum(not number for number in self.blanket)
        self._number_knitters()
        self._number_pieces()

    def _number_squares(self, number: int, work: Work) -> None:
        plan, index = work.plan, self.index
        unfinished = [place for place in plan.places if place not in work.finished]
        unfinished.sort(key=lambda place: -plan.chain[place])
        for place in unfinished:
            index[number, place] = len(self.places)
            self.places.append(place)
            self.blanket.append(number)
        stitches, mitre = self.situation.plan.layout.stitches, self.situation.plan.layout.mitre
        one = worked(stitches, mitre)
        stitches, mitre = plan.layout.stitches, plan.layout.mitre
        self.units += [worked(stitches * plan.size[place], mitre) / one for place in unfinished]
        self.carries += [
            [index[number, above] for above in plan.carries[place]] for place in unfinished
        ]
        self.unmet += [
            sum((number, support) in index for support in plan.stands_on[place])
            for place in unfinished
        ]
        # A lot, by which luck is drawn, belongs to a place: a finished square, another seam or
        # another order leaves that of all others as it is.
        every = {place: lot for lot, place in enumerate(sorted(plan.places), self.lots)}
        self.lots += len(every)
        self.lot += [every[place] for place in unfinished]

    def _number_knitters(self) -> None:
        knitters = self.situation.knitters
        # Who each number is, by the index in the situation.
        self.people = sorted(
            range(len(knitters)), key=lambda who: (knitters[who].pace.median, who), reverse=True
        )
        self.rank = {who: number for number, who in enumerate(self.people)}
        self.pace = [knitters[who].pace for who in self.people]
        self.away = [knitters[who].away for who in self.people]

    def _number_pieces(self) -> None:
        self.first = list(self.places)  # the place that a piece is called after
        self.hands: list[tuple[int, ...]] = [()] * len(self.places)  # who has each piece
        # How each piece moves, and for how many people there is room.
        self.travelling = [_travelling(self.works[number]) for number in self.blanket]
        self.room = [_room(self.works[number]) for number in self.blanket]
        # What lies beneath a square is one piece when it is begun, whatever it was before: one
        # number tells which, and the others are those that it joins to it.
        self.piece = list(range(len(self.places)))
        self.joins: list[tuple[int, ...]] = [()] * len(self.places)
        for number, work in enumerate(self.works):
            self._number_pieces_of(number, work)
        # No piece is handed over, none is joined to another, and nothing else is worked on.
        self.simple = len(self.works) == 1 and not any(self.travelling) and not any(self.joins)

    def _number_pieces_of(self, number: int, work: Work) -> None:
        beneath: dict[Place, int] = {}
        travelling, room = _travelling(work), _room(work)
        for fabric in work.plan.pieces(among=work.finished):
            beneath.update(dict.fromkeys(fabric, len(self.first)))
            self.first.append(min(fabric))
            held = {self.rank[work.holders[p]] for p in fabric if p in work.holders}
            self.hands.append(tuple(sorted(held))[:room] if travelling else ())
            self.travelling.append(travelling)
            self.room.append(room)
        for place in work.plan.places:
            if (number, place) not in self.index:
                continue
            square = self.index[number, place]
            pieces = list(dict.fromkeys(beneath[below] for below in work.plan.stands_on[place]))
            if pieces:
                self.piece[square], self.joins[square] = pieces[0], tuple(pieces[1:])
            beneath[place] = self.piece[square]


def _travelling(work: Work) -> Travelling | None:
    return work.mode if isinstance(work.mode, Travelling) else None


def _room(work: Work) -> int:
    return work.mode.at_once or len(work.plan.places) + 1
