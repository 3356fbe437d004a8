"""The people and the blankets of these tests."""

from collections.abc import Callable
from typing import Any

import pytest

from accounts.models import Member, Role
from drives.craft.layout import Layout
from tests.cast import Cast, bring, login, make_cast

from .desk import DAY, NOW, Desk, new_blanket


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
