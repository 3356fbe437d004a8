"""Ways to cut a blanket into panels: how soon it is done, how much to sew, what changes hands."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import inf

from drives.craft.layout.cloth import Cloth
from drives.craft.layout.cuts import Along
from drives.craft.layout.finishing import sewn
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.panels import bent, strips
from drives.craft.layout.sizing import side

from .forecast import Forecast, collected, runs_of
from .run import Run
from .situation import Situation, present
from .tradeoffs import Tradeoff, cut_along, played_steadily, some, ways

MOST = 8  # proposals besides the blanket as it stands
SCREENING = 0.3  # of the time goes into finding what is proposed


@dataclass(frozen=True)
class Proposal:
    """The blanket in ``panels``; without new ``seams`` it is the blanket as it stands.

    ``along``: what the panels are strips of, None where they are none. ``bent``: whether a seam
    goes round a corner, so that not all panels are rectangles. ``sewing``: centimetres, old seams
    included. ``hand_overs``: while it is knitted, on average. ``squares``, ``days``: what each
    volunteer has to knit and the days of knitting that it takes, on average. ``unbeaten``: no other
    proposal is as soon (with 90 %) with as little to sew and as few hand-overs, and better in one
    of the three.
    """

    along: Along | None
    bent: bool
    panels: int
    seams: frozenset[Seam]
    sewing: float
    forecast: Forecast
    hand_overs: float
    squares: float
    days: float
    unbeaten: bool = False

    @property
    def layout(self) -> Layout:
        return self.forecast.situation.plan.layout

    @property
    def late(self) -> float:
        """The days that are kept with 90 %."""
        return self.forecast.within(0.9)

    def beats(self, other: "Proposal") -> bool:
        mine = (self.late, self.sewing, self.hand_overs)
        others = (other.late, other.sewing, other.hand_overs)
        return mine != others and all(a <= b for a, b in zip(mine, others, strict=True))


def proposals(
    situation: Situation,
    gauge: float,
    times: int,
    seed: int,
    most_panels: int | None = None,
    progress: Callable[[float], object] = lambda share: None,
) -> list[Proposal]:
    """The blanket as it stands, then the best ways to cut it, the least to sew first.

    Which those are is found with steady paces (``tradeoffs.ways``; at most ``most_panels``); of
    more than ``MOST`` the soonest and others, from the least to the most to sew. Each of them is
    played ``times`` times with the same luck, so that one may be beaten by another after all. With
    what probability a wanted day is kept, each one's forecast tells. ``gauge``: stitches to 10 cm.
    ``progress`` is called with the share that is done.
    """
    stands, *others = ways(situation, most_panels, lambda share: progress(share * SCREENING))
    chosen = [stands, *some(others, MOST)]
    found = []
    for way in chosen:
        found.append(_played(situation, way.seams, gauge, times, seed))
        progress(SCREENING + (1 - SCREENING) * len(found) / len(chosen))
    return [replace(each, unbeaten=not any(other.beats(each) for other in found)) for each in found]


def one_more_panel(situation: Situation, gauge: float, times: int, seed: int) -> Proposal | None:
    """The fullest panel cut in two, along its columns or its rows: whichever is done sooner."""
    if not situation.knitters:
        return None
    cloth = Cloth(situation.plan, situation.begun)
    parts = cloth.cut([])
    fullest = max(parts.panels, key=lambda panel: sum(cloth.left[square] for square in panel))
    halves = [half for along in Along if (half := cloth.split(parts, fullest, along)) is not None]
    tried = [cloth.told(half.seams) for half in halves]

    def first(seams: frozenset[Seam]) -> Tradeoff:
        return played_steadily(situation, seams)

    best = min(tried, key=first, default=None)
    return None if best is None else _played(situation, best, gauge, times, seed)


def _played(
    situation: Situation, seams: frozenset[Seam], gauge: float, times: int, seed: int
) -> Proposal:
    cut = replace(situation, plan=cut_along(situation.plan, seams))
    knitting: list[float] = []
    handed: list[int] = []

    def watched(runs: Iterator[Run]) -> Iterator[Run]:
        for run in runs:
            knitting.append(_knitting(run))
            handed.append(run.hand_overs)
            yield run

    told = collected(cut, watched(runs_of(cut, times, seed)))
    left, people = len(cut.plan.places) - len(cut.finished), len(cut.knitters)
    layout = cut.plan.layout
    return Proposal(
        along=strips(cut.plan) if seams else None,
        bent=bool(seams) and bent(cut.plan),
        panels=len(cut.plan.pieces()),
        seams=seams,
        sewing=sewn(layout) * side(layout.stitches, gauge),
        forecast=told,
        hand_overs=sum(handed) / times,
        squares=left / people if people else inf,
        days=sum(knitting) / times / people if people else inf,
    )


def _knitting(run: Run) -> float:
    """The days that all people knit in one run, pauses left out."""
    knitters = run.prepared.situation.knitters
    return sum(
        present(square.since, square.ended, knitters[square.knitter].away)
        for square in run.knitted()
    )
