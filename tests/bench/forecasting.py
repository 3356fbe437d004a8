"""A forecast of 20 × 24 squares and 30 volunteers against simpy, which plays the same events.

The circle works together, with room for twelve around the blanket. For simpy each volunteer is a
process that waits for a seat, takes the ready square with the longest chain, knits, and looks what
has become ready; all have one pace, so that it does not matter who is free first.
"""

from collections.abc import Generator, Iterator
from random import Random

import simpy

from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.prepared import Prepared
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import Knitter, Situation, Together
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan

from .figures import Figure, side_by_side

SQUARES = plan(Layout(20, 24, 20))
PEOPLE, ROOM, PACE = 30, 12, Days(4, spread=0.5)
RUNS, MEASURED = 1000, 40  # these many are timed, several times, and told as if all were


def figures() -> Iterator[Figure]:
    situation = Situation(SQUARES, [Knitter(PACE)] * PEOPLE, Together(ROOM))
    prepared = Prepared(situation)
    luck = [_days(Run(prepared, Random(f"1-{number}"))) for number in range(MEASURED)]
    theirs = sorted(_simpy(prepared, days) for days in luck)
    for one, other in zip(forecast(situation, MEASURED, seed=1).days, theirs, strict=True):
        assert abs(one - other) < 1e-6, (one, other)
    ours, floor = side_by_side(
        lambda: forecast(situation, MEASURED, seed=1),
        lambda: [_simpy(prepared, days) for days in luck],
    )
    yield Figure(
        f"forecast, {RUNS} runs of {len(SQUARES.places)} squares / simpy",
        f"{ours * RUNS / MEASURED:.2f} s", f"{floor * RUNS / MEASURED:.2f} s",
        floor / ours, 5, at_least=True,
    )  # fmt: skip


def _days(run: Run) -> list[float]:
    """How long each square took in a run, by its number."""
    squares = range(len(run.ended))
    return [run.ended[square] - run.since(square) for square in squares]


def _simpy(prepared: Prepared, days: list[float]) -> float:
    """The makespan of the same run."""
    world = simpy.Environment()
    ready = simpy.PriorityStore(world)
    room = simpy.Resource(world, ROOM)
    unmet = list(prepared.unmet)

    def volunteer() -> Generator[simpy.Event, int, None]:
        while True:
            with room.request() as seat:
                yield seat
                square = yield ready.get()
                yield world.timeout(days[square])
                for above in prepared.carries[square]:
                    unmet[above] -= 1
                    if not unmet[above]:
                        ready.put(above)

    for _ in range(PEOPLE):
        world.process(volunteer())
    for square, count in enumerate(unmet):
        if not count:
            ready.put(square)
    world.run()
    return float(world.now)
