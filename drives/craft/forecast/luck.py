"""Chance in one run: what falls to each square and to each knitter."""

from math import exp
from random import Random
from statistics import NormalDist

from .draws import Draw
from .pace import Days
from .prepared import Prepared

_NORMAL = NormalDist()
# Equally likely values of the normal distribution: choosing is several times as quick as gauss().
_LUCK = [_NORMAL.inv_cdf((number + 0.5) / 4096) for number in range(4096)]


_AT_ONCE = Days(0.0)


class Luck:
    """``normal``, ``post``, ``chance`` by square: of its days, of its hand-over, of what else.

    ``median`` and ``spread`` by knitter, whose logarithm of days is normal. Drawn in an order in
    which one more knitter changes nobody else's.
    """

    def __init__(self, prepared: Prepared, random: Random, draw: Draw | None) -> None:
        lots, lot = prepared.lots, prepared.lot
        luck = random.choices(_LUCK, k=lots)
        self.normal = [luck[each] for each in lot]
        self.post: list[float] = []
        if any(prepared.travelling):
            doubt, luck = random.choice(_LUCK), random.choices(_LUCK, k=lots)
            for square, travelling in enumerate(prepared.travelling[: len(prepared.places)]):
                days = travelling.hand_over if travelling else _AT_ONCE
                deviation = days.doubt * doubt + days.spread * luck[lot[square]]
                self.post.append(days.median * exp(deviation))
        self.draw = draw
        if draw is None:
            doubts = random.choices(_LUCK, k=len(prepared.people))
            self.median = [
                pace.median * exp(pace.doubt * doubts[who])
                for pace, who in zip(prepared.pace, prepared.people, strict=True)
            ]
            self.spread = [pace.spread for pace in prepared.pace]
            return
        chances = [random.random() for _ in range(3 * lots)]
        self.rest = [draw.rests.at(chances[each]) for each in lot]
        self.leaves = [chances[lots + each] < draw.leaving for each in lot]
        self.gives_up = [chances[2 * lots + each] < draw.giving_up for each in lot]
        knitters = prepared.situation.knitters
        self.median = [
            knitters[who].pace.median if knitters[who].supposed else draw.paces.median[who]
            for who in prepared.people
        ]
        self.spread = [draw.paces.within] * len(prepared.people)
