"""Which ways to cut a blanket are worth a closer look: each played once, with steady paces."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import accumulate
from math import inf, log
from random import Random
from typing import NamedTuple, Self, TypeVar

from drives.craft.layout.cloth import Cloth, Parts
from drives.craft.layout.cuts import Cut, every_cut
from drives.craft.layout.even import even_cuts
from drives.craft.layout.layout import Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.rows import worked

from .pace import Days
from .prepared import Prepared
from .run import Run
from .situation import Situation, Travelling

MOST_PANELS = 30
WORK = 250_000  # squares that are played: where all cuts are more, only even ones are tried
LARGEST = 1000  # squares of a blanket that is compared so; a larger one takes a worker
A_MOMENT = 1e-11  # of somebody's days for a square
PLAYED = 20_000  # the same where somebody waits for the answer: about a second

_Any = TypeVar("_Any")


class Tradeoff(NamedTuple):
    """Days until it is done, new seams in units, and hand-overs: less of each is better."""

    days: float
    seams: int
    hand_overs: float

    def as_good_as(self, other: Self) -> bool:
        return all(mine <= its for mine, its in zip(self, other, strict=True))


class Way(NamedTuple):
    """New ``seams``, and what comes of them when everybody knits steadily."""

    seams: frozenset[Seam]
    tradeoff: Tradeoff


def ways(
    situation: Situation,
    most_panels: int | None = None,
    progress: Callable[[float], object] = lambda share: None,
    work: int = WORK,
) -> list[Way]:
    """The blanket as it stands, then the ways to cut it that no other one beats, the least first.

    Into as many panels as there are knitters and one more (two more where a cut may have to go
    round what is begun), or ``most_panels``. On a small blanket all cuts into strips, and across
    each strip, are tried; on a large one those into even panels. Of ways with the same trade-off
    it is the simplest. ``work``: about so many squares are played.
    """
    stands = Way(frozenset(), played_steadily(situation, frozenset()))
    if stands.tradeoff.days in (0, inf):
        return [stands]
    most = most_panels or min(len(situation.knitters) + 1 + bool(situation.begun), MOST_PANELS)
    cloth = Cloth(situation.plan, situation.begun)
    tried = _tried(cloth, _Least(situation, cloth), most, work // len(situation.plan.places))
    found = [stands]
    for number, (bound, parts) in enumerate(tried):
        if any(way.tradeoff.as_good_as(bound) for way in found):
            continue
        seams = cloth.told(parts.seams)
        tradeoff = played_steadily(situation, seams)
        if not any(way.tradeoff.as_good_as(tradeoff) for way in found):
            found = [way for way in found if not tradeoff.as_good_as(way.tradeoff)]
            found.append(Way(seams, tradeoff))
        progress(number / len(tried))
    return found


def _tried(cloth: Cloth, least: "_Least", most: int, limit: int) -> list[tuple[Tradeoff, Parts]]:
    """At most ``limit``: the least to sew first, of those the quickest, of those the simplest."""
    tried: dict[frozenset[int], tuple[Tradeoff, tuple[int, int], Parts]] = {}

    def look(cut: Cut) -> None:
        parts = cloth.of_cut(cut)
        if parts.seams and (parts.seams not in tried or cut.simple < tried[parts.seams][1]):
            tried[parts.seams] = (least.of(parts), cut.simple, parts)

    into, cuts = every_cut(cloth.columns, cloth.rows, most, limit)
    for cut in cuts:
        look(cut)
    if into < most:
        for cut in even_cuts(cloth, most):
            look(cut)
    ordered = sorted(
        tried.values(),
        key=lambda each: (each[0].seams, each[0].days, each[1], sorted(each[2].seams)),
    )
    return [(bound, parts) for bound, _simple, parts in spread(ordered, limit)]


class _Least:
    """The least that a cut can come to, from how much each panel holds: not played.

    On a panel no more can work than have room on all the fabrics that are begun for it.
    """

    def __init__(self, situation: Situation, cloth: Cloth) -> None:
        stitches, mitre = situation.plan.layout.stitches, situation.plan.layout.mitre
        size = situation.plan.size
        self._work = [
            worked(stitches * size[place], mitre) / worked(stitches, mitre) if left else 0.0
            for place, left in zip(cloth.places, cloth.left, strict=True)
        ]
        speeds = sorted((1 / each.pace.median for each in situation.knitters), reverse=True)
        self._together = [0.0, *accumulate(speeds)]  # of so many of the quickest
        self._room = situation.mode.at_once or len(speeds)
        self._cloth = cloth

    def of(self, parts: Parts) -> Tradeoff:
        days = sum(self._work) / self._together[-1]
        for panel, bases in zip(parts.panels, self._cloth.bases(parts), strict=True):
            people = min(self._room * bases, len(self._together) - 1)
            days = max(days, sum(self._work[square] for square in panel) / self._together[people])
        return Tradeoff(_rounded(days), len(parts.seams), 0.0)


def steady(situation: Situation) -> Situation:
    """The blanket alone, without luck: everybody, and every hand-over, takes the middle's days.

    In days of knitting. Nobody finishes at the very moment when somebody else does, which hardly
    ever happens among people: all would be waiting then, and would swap what each has at home.
    """
    situation = situation.by_knitting()
    mode = situation.mode
    if isinstance(mode, Travelling):
        mode = replace(mode, hand_over=Days(mode.hand_over.median))
    knitters = [
        each._replace(pace=Days(each.pace.median * (1 + number * A_MOMENT)))
        for number, each in enumerate(situation.knitters)
    ]
    return replace(
        situation, knitters=knitters, mode=mode, others=(), history=None, shares=(), meets=None
    )


def cut_along(whole: Plan, seams: frozenset[Seam]) -> Plan:
    """``whole`` with these seams too."""
    return plan(replace(whole.layout, seams=whole.layout.seams | seams))


def played_steadily(situation: Situation, seams: frozenset[Seam]) -> Tradeoff:
    cut = replace(steady(situation), plan=cut_along(situation.plan, seams))
    run = Run(Prepared(cut), Random(0))  # noqa: S311 - nothing is left to chance
    return Tradeoff(_rounded(run.days), len(seams), run.hand_overs)


def _rounded(days: float) -> float:
    """Sums of the same days in another order are the same; a moment is nothing."""
    return round(days, 4)


def spread(found: Sequence[_Any], most: int) -> list[_Any]:
    """At most so many, from the first to the last."""
    if len(found) <= most:
        return list(found)
    return [found[number * (len(found) - 1) // max(most - 1, 1)] for number in range(most)]


def some(found: Sequence[Way], most: int) -> list[Way]:
    """Of many at most so many: the soonest, that with the fewest hand-overs, and as they differ.

    Each further one is that whose days are farthest, in proportion, from those of all chosen.
    """
    if len(found) <= most:
        return list(found)
    soonest = min(found, key=lambda way: way.tradeoff)
    steadiest = min(found, key=lambda way: (way.tradeoff.hand_overs, way.tradeoff))
    kept = {soonest, steadiest}

    def apart(way: Way) -> float:
        return min(abs(log(way.tradeoff.days / other.tradeoff.days)) for other in kept)

    while len(kept) < most:
        kept.add(max((way for way in found if way not in kept), key=apart))
    return [way for way in found if way in kept]
