"""Who begins what by when, as the JSON in the row of its sheet: made by workers, read by pages.

Days are by the circle's clock.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Annotated, TypedDict

from drives.craft.forecast.forecast import Never
from drives.craft.rota.why import Why
from drives.models.blanket import Blanket
from drives.models.sheet import Sheet

from .foretold import Day

KIND = "rota"
FRESH = timedelta(days=14)  # an older one leads nobody any more


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


class Assigned(TypedDict):
    """A square for a member, from day to day. ``giver``: who hands a piece over for it.

    ``why``: why it is theirs. ``waiting``: squares that stand on it, on others between or not.
    """

    member: int
    name: str
    place: str
    begin: Day
    end: Day
    giver: str | None
    why: Annotated[str, Why]
    waiting: int


class Rota(TypedDict):
    """Who takes which square in the next weeks, and what follows from the wanted day, if any.

    ``starts``: the most pressing first. ``kept``: the probability of the wanted day.
    ``assigned``: the first to be begun first; nobody is bound by it.
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
    assigned: list[Assigned]


def assigned(blankets: Iterable[Blanket], today: date) -> dict[int, list[Assigned]]:
    """By blanket, what its newest rota says; in one query. Squares may be taken by now."""
    made = Sheet.objects.foretold().filter(
        kind=KIND, blanket__in=blankets, finished_at__date__gte=today - FRESH
    )
    rows = made.order_by("pk").values_list("blanket_id", "foretold")
    return {blanket: (told or {}).get("assigned", []) for blanket, told in rows}
