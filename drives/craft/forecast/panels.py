"""Ways to cut a blanket into panels, each played through: how soon done, how much to sew."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from math import inf

from drives.craft.layout.finishing import sewn
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.seams import Along, Cutting
from drives.craft.layout.sizing import side

from .forecast import Forecast, collected, runs_of
from .run import Run
from .situation import Situation, present

COUNTS = (2, 3, 4, 6, 8)  # panels that are proposed


@dataclass(frozen=True)
class Proposal:
    """The blanket in ``panels`` strips; ``along`` is None for the blanket as it stands.

    ``seams``: the new ones. ``sewing``: centimetres, old seams included. ``squares``, ``days``:
    what each volunteer has to knit and the days of knitting that it takes, on average.
    ``unbeaten``: no other proposal is as soon (with 90 %) with as little to sew, and better in one
    of the two.
    """

    along: Along | None
    panels: int
    seams: frozenset[Seam]
    sewing: float
    forecast: Forecast
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
        mine, others = (self.late, self.sewing), (other.late, other.sewing)
        return mine != others and mine[0] <= others[0] and mine[1] <= others[1]


def proposals(
    situation: Situation,
    gauge: float,
    times: int,
    seed: int,
    counts: Iterable[int] = COUNTS,
    progress: Callable[[float], object] = lambda share: None,
) -> list[Proposal]:
    """The blanket as it stands, then each way to cut it that disturbs nothing begun.

    ``gauge``: stitches to 10 cm. Each is played ``times`` times with the same luck; ``counts`` of
    panels that cannot be made, or are there already, are left out. With what probability a wanted
    day is kept, each one's forecast tells. ``progress`` is called with the share that is done.
    """
    ways: list[tuple[Along | None, frozenset[Seam]]] = [(None, frozenset())]
    for cutting in _cuttings(situation):
        ways += [
            (cutting.along, seams)
            for panels in sorted(set(counts))
            if panels > cutting.standing and (seams := cutting.seams(panels)) is not None
        ]
    found = []
    for along, seams in ways:
        found.append(_played(situation, along, seams, gauge, times, seed))
        progress(len(found) / len(ways))
    return [replace(each, unbeaten=not any(other.beats(each) for other in found)) for each in found]


def one_more_panel(situation: Situation, gauge: float, times: int, seed: int) -> Proposal | None:
    """The better way to cut one more panel off, along the cuts where there are some."""
    ways = _cuttings(situation)
    ways = [cutting for cutting in ways if cutting.standing > 1] or ways
    found = [
        _played(situation, cutting.along, seams, gauge, times, seed)
        for cutting in ways
        if (seams := cutting.seams(cutting.standing + 1)) is not None
    ]
    return min(found, key=lambda proposal: (proposal.late, proposal.sewing), default=None)


def _cuttings(situation: Situation) -> list[Cutting]:
    return [Cutting(situation.plan, along, situation.finished, situation.begun) for along in Along]


def _played(
    situation: Situation,
    along: Along | None,
    seams: frozenset[Seam],
    gauge: float,
    times: int,
    seed: int,
) -> Proposal:
    layout = situation.plan.layout
    layout = replace(layout, seams=layout.seams | seams)
    cut = replace(situation, plan=plan(layout))
    knitting: list[float] = []

    def watched(runs: Iterator[Run]) -> Iterator[Run]:
        for run in runs:
            knitting.append(_knitting(run))
            yield run

    told = collected(cut, watched(runs_of(cut, times, seed)))
    left, people = len(cut.plan.places) - len(cut.finished), len(cut.knitters)
    return Proposal(
        along=along,
        panels=len(cut.plan.pieces()),
        seams=seams,
        sewing=sewn(layout) * side(layout.stitches, gauge),
        forecast=told,
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
