"""Who begins what by when, as the JSON in the row of its sheet: made by workers, read by pages.

Days are by the circle's clock.
"""

from typing import Annotated, TypedDict

from drives.craft.forecast.forecast import Never

from .foretold import Day


class Start(TypedDict):
    """A square that nobody has begun, and when to begin it at the latest.

    ``half``, ``sure``: so that the wanted day holds with 50 % and with 90 %; null where no day is
    early enough. ``slack``: days from ``expected`` to ``half``, less than 0 where time is short.
    """

    place: str
    expected: Day | None
    half: Day | None
    sure: Day | None
    slack: int | None


class Speed(TypedDict):
    """Squares a week: ``needed`` until the wanted day, and ``now``, in the last ``weeks``.

    ``needed`` is null where the day is over.
    """

    needed: float | None
    now: float
    weeks: float


class Enough(TypedDict):
    """Knitters who suffice for 50 % and for 90 %, ``now`` as many as there are.

    Null where even ``most`` do not.
    """

    now: int
    half: int | None
    sure: int | None
    most: int


class Rota(TypedDict):
    """What follows from the wanted day; without one, nothing but what is left.

    ``starts``: the most pressing first. ``kept``: the probability of the wanted day.
    """

    today: Day
    runs: int
    finished: int
    squares: int
    wanted: Day | None
    never: Annotated[str, Never] | None
    kept: float | None
    speed: Speed | None
    enough: Enough | None
    starts: list[Start]
