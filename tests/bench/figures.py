"""One line for each figure: what it is, both medians, their ratio and the goal."""

from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import NamedTuple


class Figure(NamedTuple):
    """``ratio`` is ours over the floor's, or the other way round, as ``goal`` reads."""

    name: str
    ours: str
    floor: str
    ratio: float
    goal: float
    at_least: bool  # else at most

    @property
    def met(self) -> bool:
        return self.ratio >= self.goal if self.at_least else self.ratio <= self.goal

    def __str__(self) -> str:
        sign = "≥" if self.at_least else "≤"
        verdict = "met" if self.met else "MISSED"
        return (
            f"{self.name:54} {self.ours:>12} {self.floor:>12} "
            f"{self.ratio:8.2f}   {sign} {self.goal:<5g} {verdict}"
        )


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
