"""From days in a forecast to dates, and how many runs it is worth."""

from collections.abc import Callable, Iterator
from datetime import date, timedelta

from drives.craft.forecast.forecast import Forecast
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import Situation, Travelling
from drives.readings.foretold import Dates

SEED = 1  # always the same luck: what moves the dates is what has happened
WORK = 120_000  # squares played, for some seconds of work …
MOST, LEAST = 600, 300  # … within these numbers of runs


def times(situation: Situation) -> int:
    """How often to play it: fewer times where a run takes longer."""
    squares = len(situation.plan.places) - len(situation.finished)
    # Passing pieces around costs many times what a free choice of squares does.
    work = max(squares, 1) * (12 if isinstance(situation.mode, Travelling) else 1)
    return min(MOST, max(LEAST, WORK // work))


def day(today: date, days: float) -> str | None:
    """The date ``days`` after the morning of ``today``; None for never and beyond all dates."""
    if days > (date.max - today).days:
        return None
    return (today + timedelta(days=int(days))).isoformat()


def dates(forecast: Forecast, today: date, wanted: date | None) -> Dates:
    """``wanted`` is kept when all is done by the end of that day."""
    return {
        "half": day(today, forecast.day(0.5)),
        "sure": day(today, forecast.day(0.9)),
        "kept": None if wanted is None else forecast.kept((wanted - today).days + 1),
    }


def by_steps(progress: Callable[[int], None], last: int) -> Callable[[float], None]:
    """Takes the share that is done, and tells it in steps of 5, of so many per cent at the end."""
    reached = 0

    def told(share: float) -> None:
        nonlocal reached
        percent = int(share * last)
        if percent >= reached + 5:
            reached = percent
            progress(percent)

    return told


def counted(
    runs: Iterator[Run], number: int, progress: Callable[[int], None], first: int, last: int
) -> Iterator[Run]:
    """The ``number`` runs, told as ``progress`` from ``first`` to ``last`` per cent."""
    reached = first
    for count, run in enumerate(runs, 1):
        percent = first + (last - first) * count // number
        if percent >= reached + 5:
            reached = percent
            progress(percent)
        yield run
