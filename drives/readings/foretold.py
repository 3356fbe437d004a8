"""What is foreseen of a blanket, as the JSON in the file of its sheet: for pages and the API.

Days are dates in ISO 8601 by the circle's clock; null is never.
"""

import json
from typing import Any, NamedTuple, TypedDict

from drives.models.blanket import Blanket
from drives.models.sheet import Sheet, Status


class Dates(TypedDict):
    """When the last square is finished; ``kept``: the probability of keeping the wanted day."""

    half: str | None  # kept with 50 %
    sure: str | None  # kept with 90 %
    kept: float | None  # null where no day is wanted


class HeldBack(TypedDict):
    """``cause`` is one of craft's ``Cause``; ``share`` (0–1) of the days of the last chains.

    ``away``: whether days on which the member is away are among what is known.
    """

    cause: str
    member: str | None
    away: bool
    piece: str | None
    share: float


class Ahead(TypedDict):
    """Squares finished by the end of ``day``: ``low`` with 90 %, ``middle`` with 50 %, …"""

    day: str
    low: int
    middle: int
    high: int


class SoFar(TypedDict):
    """Squares finished by the end of ``day``, and still."""

    day: str
    finished: int


class MorePanel(Dates):
    """One more panel, along ``columns`` or ``rows``; ``sewing`` in cm, of all seams."""

    panels: int
    along: str
    sewing: float
    seams: list[list[str]]


class Ground(TypedDict):
    """What is known, and what is assumed until more is known (it weighs like ``weight`` times)."""

    squares: int
    hand_overs: int
    days_a_square: float
    days_a_hand_over: float | None
    weight: float


class Foretold(TypedDict):
    """A forecast, from ``runs`` plays of the plan."""

    today: str
    runs: int
    finished: int
    squares: int
    wanted: str | None
    never: str | None
    dates: Dates
    held_back: list[HeldBack]
    volunteer: Dates | None
    panel: MorePanel | None
    ahead: list[Ahead]
    so_far: list[SoFar]
    rests_on: Ground


class Proposed(Dates):
    """One way to cut; ``along`` null is the blanket as it stands.

    ``early``: the day that is kept with only 10 %. ``squares``, ``days`` of knitting: a volunteer.
    """

    early: str | None
    panels: int
    along: str | None
    seams: list[list[str]]
    sewing: float
    squares: float
    days: float
    unbeaten: bool


class Panels(TypedDict):
    """Proposals for panels; ``wanted`` as in the sheet's options."""

    today: str
    runs: int
    wanted: str | None
    never: str | None
    proposals: list[Proposed]


class Newest(NamedTuple):
    """The forecast that was made last. The blanket may have moved on since."""

    sheet: Sheet
    told: Foretold


def read_foretold(sheet: Sheet) -> Any:
    """``Foretold`` or ``Panels``, by the kind of the done ``sheet``; FileNotFoundError if gone."""
    with sheet.file.open("rb") as file:
        return json.load(file)


def newest(blanket: Blanket, kind: str) -> Newest | None:
    """In one query."""
    made = Sheet.objects.filter(blanket=blanket, kind=kind, status=Status.DONE)
    sheet = made.order_by("-pk").first()
    try:
        return Newest(sheet, read_foretold(sheet)) if sheet else None
    except FileNotFoundError:
        return None
