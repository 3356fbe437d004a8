"""One line for each figure: what it is, both medians, their ratio and the goal."""

from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import NamedTuple


class Figure(NamedTuple):
    """``ratio`` is ours over the floor's, or the other way round, as ``goal`` reads.

    ``goal`` is None for a figure that is only shown for comparison.
    """

    name: str
    ours: str
    floor: str
    ratio: float
    goal: float | None
    at_least: bool  # else at most

    def __str__(self) -> str:
        line = f"{self.name:60} {self.ours:>10} {self.floor:>10} {self.ratio:8.2f}"
        if self.goal is None:
            return line
        met = self.ratio >= self.goal if self.at_least else self.ratio <= self.goal
        sign, verdict = "≥" if self.at_least else "≤", "met" if met else "MISSED"
        return f"{line}   {sign} {self.goal:<5g} {verdict}"


def seconds(work: Callable[[], object]) -> float:
    begun = perf_counter()
    work()
    return perf_counter() - begun


def side_by_side(
    ours: Callable[[], object], floor: Callable[[], object], times: int = 7
) -> tuple[float, float]:
    """Median seconds of both, taken in turn so that noise falls on both alike."""
    pairs = [(seconds(ours), seconds(floor)) for _ in range(times)]
    return median(pair[0] for pair in pairs), median(pair[1] for pair in pairs)


def milliseconds(value: float) -> str:
    return f"{value * 1000:.1f} ms"


def a_second(value: float) -> str:
    return f"{value:.0f} /s"
