"""The people and the blankets of these tests."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from accounts.models import Member, Role
from drives.craft.layout import Layout, Seam
from tests.cast import Cast, bring, login, make_cast

from .broken import run
from .desk import DAY, NOW, Desk, new_blanket, places


@pytest.fixture
def cast(db: None) -> Cast:
    return make_cast(NOW - 30 * DAY)


@pytest.fixture
def will(cast: Cast) -> Member:
    """A second volunteer."""
    return bring(cast.olga, login("Will"), Role.VOLUNTEER, now=NOW - 30 * DAY)


Plan = Callable[..., Desk]


@pytest.fixture
def plan(cast: Cast) -> Plan:
    """Makes a blanket of so many columns and rows; the rest is for its layout or its drive."""

    def make(columns: int = 2, rows: int = 2, **more: Any) -> Desk:
        of_layout = {
            name: more.pop(name)
            for name in ("missing", "large", "seams", "mitre", "corner_trade")
            if name in more
        }
        layout = Layout(columns, rows, more.pop("stitches", 20), **of_layout)
        return Desk(new_blanket(cast.olga, layout, **more))

    return make


@pytest.fixture
def asleep(db: None) -> Iterator[None]:
    """Check constraints sleep; unique ones have to be dropped by the test."""
    run("PRAGMA ignore_check_constraints = ON")
    yield
    run("PRAGMA ignore_check_constraints = OFF")


@pytest.fixture
def desk(asleep: None, cast: Cast, will: Member, plan: Plan) -> Desk:
    """Two panels, A and B–C. A1, A2, B1, C1 finished, B2 taken, A3 ready, C2 waiting for B2."""
    seams = frozenset(Seam(*places(f"A{row} B{row}")) for row in (1, 2, 3))
    desk = plan(3, 3, seams=seams)
    desk.knit("A1 A2 B1", cast.vera)
    desk.knit("C1", will)
    desk.claim("B2", cast.vera)
    return desk
