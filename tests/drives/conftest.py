"""The people and the blankets of these tests."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

import pytest

from accounts import actions
from accounts.models import Member, Role, User
from drives.craft.layout import Layout
from drives.models import blanket

from .desk import NOW, Desk, new_blanket

EARLIER = NOW - timedelta(days=30)


@dataclass(frozen=True)
class Cast:
    """Two volunteers, who runs the circle, somebody on paper, and somebody of another circle."""

    organiser: Member
    coordinator: Member
    ann: Member
    ben: Member
    paper: Member
    stranger: Member


@pytest.fixture(autouse=True)
def _no_plan_remembered() -> None:
    """Rows of a test that was rolled back come again with the same id at the same moment."""
    blanket._plan_of.cache_clear()


def _user(name: str) -> User:
    return User.objects.create_user(email=f"{name.lower()}@example.org", name=name)


def _circle(organiser: str) -> Member:
    return actions.make_circle(
        user=_user(organiser),
        name=f"Circle of {organiser}",
        units="cm",
        english="british",
        time_zone="Europe/London",
        hand="right",
        now=EARLIER,
    )


def _join(organiser: Member, name: str, *roles: Role) -> Member:
    invited = actions.invite(by=organiser, roles=roles, days=7, now=EARLIER, site="")
    return actions.accept_invitation(
        invitation=invited.invitation, user=_user(name), hand="right", now=EARLIER
    )


@pytest.fixture
def cast(db: None) -> Cast:
    organiser = _circle("Olive")
    return Cast(
        organiser=organiser,
        coordinator=_join(organiser, "Cora", Role.COORDINATOR),
        ann=_join(organiser, "Ann", Role.VOLUNTEER),
        ben=_join(organiser, "Ben", Role.VOLUNTEER),
        paper=actions.add_paper_member(
            by=organiser, name="Pat", reach="", hand="left", now=EARLIER
        ),
        stranger=_circle("Sam"),
    )


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
        return Desk(new_blanket(cast.organiser, layout, **more))

    return make
