"""What all runs of a forecast share: a situation as plain lists, so that a run takes a millisecond.

Squares are numbered by priority, the longest chain still to come first; knitters by pace, the
slowest first, since the end of a list is its cheap end; pieces by the square that begins them, or,
for fabrics that are there already, by a number beyond the squares.
"""

from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .situation import Situation, Travelling


class Prepared:
    """Lists by number, unless they say otherwise."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        mode = situation.mode
        self.travelling = mode if isinstance(mode, Travelling) else None
        self._number_squares()
        self.at_once = mode.at_once or len(self.places) + 1
        self._number_knitters()
        self._number_pieces()

    def _number_squares(self) -> None:
        plan = self.situation.plan
        unfinished = [place for place in plan.places if place not in self.situation.finished]
        self.places = sorted(unfinished, key=lambda place: -plan.chain[place])
        self.index = index = {place: number for number, place in enumerate(self.places)}
        stitches, mitre = plan.layout.stitches, plan.layout.mitre
        one = worked(stitches, mitre)
        self.work = [worked(stitches * plan.size[place], mitre) / one for place in self.places]
        self.carries = [[index[above] for above in plan.carries[place]] for place in self.places]
        self.unmet = [
            sum(support in index for support in plan.stands_on[place]) for place in self.places
        ]
        # A lot, by which luck is drawn, belongs to a place: a finished square, another seam or
        # another order leaves that of all others as it is.
        every = {place: lot for lot, place in enumerate(sorted(plan.places))}
        self.lots = len(every)
        self.lot = [every[place] for place in self.places]

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
        plan, situation = self.situation.plan, self.situation
        self.first = list(self.places)  # the place that a piece is called after
        self.hands: list[tuple[int, ...]] = [()] * len(self.places)  # who has each piece
        beneath: dict[Place, int] = {}
        for fabric in plan.pieces(among=situation.finished):
            beneath.update(dict.fromkeys(fabric, len(self.first)))
            self.first.append(min(fabric))
            held = {self.rank[situation.holders[p]] for p in fabric if p in situation.holders}
            self.hands.append(tuple(sorted(held))[: self.at_once] if self.travelling else ())
        # What lies beneath a square is one piece when it is begun, whatever it was before: one
        # number tells which, and the others are those that it joins to it.
        self.piece = list(range(len(self.places)))
        self.joins: list[tuple[int, ...]] = [()] * len(self.places)
        for place in plan.places:
            if place not in self.index:
                continue
            square = self.index[place]
            pieces = list(dict.fromkeys(beneath[support] for support in plan.stands_on[place]))
            if pieces:
                self.piece[square], self.joins[square] = pieces[0], tuple(pieces[1:])
            beneath[place] = self.piece[square]
        # No piece is handed over, and none is joined to another.
        self.simple = not self.travelling and not any(self.joins)
