"""A process keeps plans of layouts: never one of another layout, whatever became of the rows."""

from collections.abc import Callable

import pytest
from django.db import connection, transaction

from accounts.models import Event, Topic
from drives.actions.drives.blankets import change_layout
from drives.craft.layout.layout import Layout
from drives.models import Blanket, Square
from tests.conftest import Plan, forget
from tests.desk import DAY, NOW, Desk


def change(desk: Desk, columns: int) -> None:
    olga = desk.blanket.drive.circle.members.get(name="Olga")
    layout = Layout(columns, 1, 20)
    change_layout(blanket=Blanket.objects.get(), by=olga, layout=layout, now=NOW)


def squares_of(blanket: Blanket) -> int:
    return len(blanket.plan().places)


def put_back(desk: Desk) -> Callable[[], None]:
    """What makes the blanket again as it is now, below whoever has read it meanwhile."""
    blanket = Blanket.objects.values().get()
    squares = list(Square.objects.all())

    def restore() -> None:
        Square.objects.all().delete()
        Square.objects.bulk_create(squares)
        Blanket.objects.filter(pk=desk.blanket.pk).update(**blanket)

    return restore


def test_one_that_was_rolled_back_is_nobodys(plan: Plan) -> None:
    desk = plan(1, 1)
    with transaction.atomic():
        change(desk, 2)
        assert squares_of(Blanket.objects.get()) == 2
        transaction.set_rollback(True)
    change(desk, 3)
    assert Blanket.objects.get().layout_version == 2
    assert squares_of(Blanket.objects.get()) == 3


def test_after_a_restore_a_version_comes_again_with_another_plan(plan: Plan) -> None:
    desk = plan(1, 1)
    restore = put_back(desk)
    change(desk, 2)
    newer = Blanket.objects.get()
    assert squares_of(newer) == 2
    restore()
    assert squares_of(Blanket.objects.get()) == 1
    assert squares_of(newer) == 2  # it was true for the row that this one has read
    change(desk, 3)
    assert Blanket.objects.get().layout_version == newer.layout_version
    assert squares_of(Blanket.objects.get()) == 3


def test_what_was_too_old_before_a_restore_is_the_newest_after_it(plan: Plan) -> None:
    desk = plan(1, 1)
    restore, older = put_back(desk), Blanket.objects.get()
    change(desk, 2)
    forget()  # as in another process, which has not planned the first layout
    assert squares_of(older) == 2  # it has looked and found that there was a newer one
    restore()
    assert squares_of(Blanket.objects.get()) == 1


@pytest.fixture
def events(plan: Plan) -> Desk:
    return plan(1, 1)


def note(desk: Desk, number: int, minutes: int = 0) -> None:
    circle = desk.blanket.drive.circle
    about = {"topic": Topic.BLANKET, "topic_id": desk.blanket.pk, "verb": "looked"}
    Event.objects.create(pk=number, circle=circle, at=NOW + minutes * DAY / 1440, **about)


def test_a_revision_knows_events_that_come_late_or_twice(events: Desk) -> None:
    """As commits do in another order than they were numbered, and numbers after a restore."""
    seen = [events.blanket.revision()]
    for number in (9_000, 8_000):
        note(events, number)
        seen.append(events.blanket.revision())
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM accounts_event WHERE id = 9000")
    note(events, 9_000, minutes=1)
    seen.append(events.blanket.revision())
    assert len(set(seen)) == 4
    assert events.blanket.revision() == seen[-1]
