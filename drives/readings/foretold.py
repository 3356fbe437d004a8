"""What is foreseen of a blanket, as the JSON in the row of its sheet.

The only place that says what a forecast holds: workers make it, pages read it, and the API's
shapes are made of it. Days are by the circle's clock; null is never.
"""

from datetime import date
from typing import Annotated, Any, NamedTuple, TypedDict

from drives.craft.forecast.causes import Cause
from drives.craft.forecast.forecast import Never
from drives.craft.forecast.passing import Passing
from drives.craft.layout.cuts import Along
from drives.models.blanket import Blanket
from drives.models.sheet import Sheet

Day = Annotated[str, date]  # ISO 8601


class Dates(TypedDict):
    """The days that are kept with 50 % and with 90 %; ``kept``: the wanted day’s probability."""

    half: Day | None
    sure: Day | None
    kept: float | None  # null where no day is wanted


class HeldBack(TypedDict):
    """A cause with its share of the days of the last chains; about a member, a piece, or neither.

    ``away``: whether days on which the member is away are among what is known.
    """

    cause: Annotated[str, Cause]
    member: str | None
    away: bool
    piece: str | None
    share: float


class Ahead(TypedDict):
    """Squares finished by the end of a day, with 90 %, 50 % and 10 %."""

    day: Day
    low: int
    middle: int
    high: int


class SoFar(TypedDict):
    """Squares finished by the end of a day, and still."""

    day: Day
    finished: int


class MorePanel(Dates):
    """The fullest panel cut in two; ``along`` is null where not all panels are strips then.

    ``sewing``: centimetres of all seams.
    """

    panels: int
    along: Annotated[str, Along] | None
    sewing: float
    seams: list[list[str]]


class Volunteer(Dates):
    """One more volunteer. ``kept_by``: who keeps the piece meanwhile, where that is sooner.

    Null where pieces are passed on as they are now.
    """

    kept_by: str | None


class Passed(Dates):
    """The dates if travelling pieces were passed on so; ``now``: as they are."""

    passing: Annotated[str, Passing]
    now: bool


class Assumed(TypedDict):
    """What is taken for true until the circle has shown what it does: of ``Habits``.

    ``square``: days for one. ``stopping``: of those who give a square up. The shares count like
    ``people`` and like ``squares`` that were seen.
    """

    square: float
    rest: float
    gone: float
    people: float
    leaving: float
    giving_up: float
    stopping: float
    squares: float


class Habits(TypedDict):
    """What was learned from what happened, leaning on what is ``assumed`` until much has.

    ``rest``: days from finishing a square to taking the next, learned from ``rests``. ``people``
    who could knit, of whom ``gone`` are reckoned not to. ``leaving``, ``giving_up``: shares of
    squares after which somebody stops, and which are not finished. ``first``: how many times as
    long a first square takes. ``week``: the share of the squares that are finished on each
    weekday, Monday first; null where squares only change hands when the circle meets. ``others``:
    further blankets of the circle that wait for the same hands.
    """

    rest: float
    rests: int
    people: int
    gone: float
    leaving: float
    giving_up: float
    first: float
    week: list[float] | None
    others: int
    assumed: Assumed


class Ground(TypedDict):
    """How much is known, and the days that are reckoned with.

    What is assumed of paces until more is known weighs like ``weight`` squares. ``habits`` is
    null in a forecast of before they were learned.
    """

    squares: int
    hand_overs: int
    days_a_square: float
    days_a_hand_over: float | None
    weight: float
    habits: Habits | None


class Foretold(TypedDict):
    """A forecast, from ``runs`` plays of the plan."""

    today: Day
    runs: int
    finished: int
    squares: int
    wanted: Day | None
    never: Annotated[str, Never] | None
    dates: Dates
    held_back: list[HeldBack]
    volunteer: Volunteer | None
    passing: list[Passed]
    panel: MorePanel | None
    ahead: list[Ahead]
    so_far: list[SoFar]
    rests_on: Ground


class Shared(TypedDict):
    """A panel from its ``first`` square to its ``last``, and whose it could be.

    ``squares``: left to knit. ``others``: people beside the ``members`` who are only supposed.
    ``days`` of knitting until they are done with all that is theirs.
    """

    first: str
    last: str
    squares: int
    members: list[str]
    others: int
    days: float


class Proposed(Dates):
    """One way to cut; without new ``seams`` the blanket as it stands.

    ``along``: what the panels are strips of, null where they are none. ``bent``: a seam goes round
    a corner. ``early``: the day that is kept with only 10 %. ``sewing``: centimetres of all seams.
    ``hand_overs``: while it is knitted, on average. ``squares``, ``days`` of knitting: a volunteer.
    ``unbeaten``: none is as soon with as little to sew and as few hand-overs, and better in one.
    ``shares``: who could get which panel; null where nobody knits like those who began one.
    """

    early: Day | None
    panels: int
    along: Annotated[str, Along] | None
    bent: bool
    seams: list[list[str]]
    sewing: float
    hand_overs: float
    squares: float
    days: float
    unbeaten: bool
    shares: list[Shared] | None


class Panels(TypedDict):
    """Proposals for panels; ``wanted`` as in the sheet's options."""

    today: Day
    runs: int
    wanted: Day | None
    never: Annotated[str, Never] | None
    proposals: list[Proposed]


class Newest(NamedTuple):
    """The forecast that was made last. The blanket may have moved on since."""

    sheet: Sheet
    told: Foretold


def read_foretold(sheet: Sheet) -> Any:
    """``Foretold``, ``Panels`` or ``Rota``, by the kind of the done ``sheet``."""
    told: Any = sheet.foretold
    if "rests_on" in (told or ()):  # it may have been made before habits were learned
        told["rests_on"].setdefault("habits", None)
        told.setdefault("passing", [])  # and before ways to pass pieces on were compared
        if told["volunteer"]:
            told["volunteer"].setdefault("kept_by", None)
    return told


def newest(blanket: Blanket, kind: str) -> Newest | None:
    """In one query."""
    made = Sheet.objects.foretold().filter(blanket=blanket, kind=kind)
    sheet = made.order_by("-pk").first()
    return Newest(sheet, read_foretold(sheet)) if sheet else None
