"""The order that locks.py writes down is the order in which actions take their locks."""

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection, transaction

from accounts.actions import change_circle, remove_member
from accounts.models import Member
from drives.actions.circles.feeds import make_feed
from drives.actions.colours.by_hand import colour_squares
from drives.actions.drives.blankets import change_layout
from drives.actions.drives.drives import change_drive
from drives.actions.drives.gifts import GiftDescription, describe_gift
from drives.actions.drives.rules import note_rules
from drives.actions.paper.codes import code_of
from drives.actions.paper.finders import leave_note
from drives.actions.paper.sheets import request_sheet, resend_sheets
from drives.actions.squares.measurements import Measured, measure_square
from drives.actions.squares.weights import weigh_square
from drives.actions.yarn.store import change_yarn
from drives.craft.layout.layout import Layout
from drives.craft.receivers.rules import Rules
from drives.sheets.kinds import STATUS
from shared.basics.transactions import writing
from tests.cast import DAY, Cast
from tests.conftest import Plan
from tests.desk import NOW, SETTINGS, places
from tests.store import FACTS, Shelf, new_yarn

pytestmark = [pytest.mark.postgres, pytest.mark.django_db]

ORDER = [
    *("accounts_circle", "accounts_member"),
    *("drives_drive", "drives_blanket", "drives_piece", "drives_square"),
    *("drives_yarn", "drives_sheet"),
]
LOCK = re.compile(r'FROM "(\w+)".* FOR (?:NO KEY )?UPDATE', re.DOTALL)


class Locks:
    """The tables whose rows each action locks. An action is what stands between two savepoints."""

    def __init__(self) -> None:
        self.taken: list[list[str]] = []
        self.depth = 0

    def __call__(
        self, execute: Any, sql: str, params: Sequence[Any], many: bool, context: Mapping[str, Any]
    ) -> Any:
        if sql.startswith("SAVEPOINT"):
            self.depth += 1
            if self.depth == 1:
                self.taken.append([])
        elif sql.startswith("RELEASE SAVEPOINT"):
            self.depth -= 1
        elif found := LOCK.search(sql):
            self.taken[-1].append(found[1])
        return execute(sql, params, many, context)

    def out_of_order(self) -> list[list[str]]:
        """A table that ORDER does not know fails here."""
        return [tables for tables in self.taken if tables != sorted(tables, key=ORDER.index)]


@contextmanager
def locks() -> Iterator[Locks]:
    taken = Locks()
    with connection.execute_wrapper(taken):
        yield taken


def test_every_lock_comes_in_its_turn(cast: Cast, plan: Plan, will: Member) -> None:
    with locks() as taken:
        desk = plan(3, 3, mode="travelling")
        drive, now = desk.blanket.drive, NOW
        desk.knit("A1", cast.vera)
        desk.ask("B1", will)
        desk.arrange("A1", will, by=cast.vera)
        desk.send("A1", cast.vera)
        desk.receive("A1", will)
        desk.knit("B1 A2", will)
        desk.rip_back("A2", cast.cora)
        desk.claim("A2", will)
        desk.extend("A2", cast.cora, days=1)
        desk.release("A2", cast.cora)
        square, cm = desk.square("B1"), Decimal(11)
        measured = Measured(20, cm, 20, cm, None)
        measure_square(
            blanket=desk.blanket, member=will, by=will, square=square, measured=measured, now=now
        )
        weigh_square(square=square, by=will, grams=Decimal(9), now=now)
        red = dict.fromkeys(places("C3 A3"), "red")
        colour_squares(blanket=desk.blanket, by=cast.olga, colours=red, now=now)
        change_layout(blanket=desk.blanket, by=cast.olga, layout=Layout(3, 2, 20), now=now)
        describe_gift(
            blanket=desk.blanket, by=cast.cora, description=GiftDescription(holes=True), now=now
        )
        note_rules(drive=drive, by=cast.olga, rules=Rules(), now=now)
        leave_note(code=code_of(desk.square("A1"), now=now), text="Found", contact="", now=now)
        desk.lose("A1", cast.cora)
        settings: Any = SETTINGS | {"mode": "together"}
        change_drive(drive=drive, by=cast.olga, now=now, **settings)
        yarn = new_yarn(cast.cora)
        Shelf(yarn, cast.cora).hand_out(will, 50)
        facts: Any = FACTS | {"colour": "Blue"}
        change_yarn(yarn=yarn, by=cast.cora, now=now, **facts)
        request_sheet(kind=STATUS, blanket=desk.blanket, by=cast.cora, options={}, now=now)
        resend_sheets(error="", now=now + DAY)
        make_feed(member=will, now=now)
        circle = {"units": "cm", "english": "american", "time_zone": "UTC"}
        change_circle(circle=cast.circle, by=cast.olga, name="Pier", now=now, **circle)
        remove_member(member=will, by=cast.olga, now=now)
    assert taken.out_of_order() == []
    assert {table for tables in taken.taken for table in tables} == set(ORDER)
    assert max(len(set(tables)) for tables in taken.taken) >= 3


def test_one_out_of_turn_would_be_seen(cast: Cast, plan: Plan) -> None:
    desk = plan()
    with locks() as taken, transaction.atomic():
        with writing():
            type(desk.blanket).objects.select_for_update().get()
        Member.objects.select_for_update(no_key=True).first()
    assert taken.out_of_order() == [["drives_blanket", "accounts_member"]]
