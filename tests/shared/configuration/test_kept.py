"""How long things are kept, by setting; and the task that keeps to it."""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.utils import timezone
from pytest_django import Settings

from accounts import actions
from accounts.models import Invitation, Role
from drives import tasks
from drives.actions.paper.codes import code_of
from drives.actions.paper.finders import leave_note, read_note
from drives.models import Absence, FinderNote
from shared.configuration.kept import TABLE, kept
from tests.cast import Cast
from tests.desk import Desk

ROOT = Path(__file__).parents[3]


def test_what_is_not_set_is_as_the_table_says() -> None:
    assert kept("") == {name: timedelta(days=row.days) for name, row in TABLE.items()}
    assert kept("letters=7  messages=14")["letters"] == timedelta(days=7)
    assert kept("letters=7")["messages"] == timedelta(days=90)


@pytest.mark.parametrize("text", ["letters", "letters=", "letters=0", "letters=-1", "beans=3"])
def test_what_is_not_understood_is_told(text: str) -> None:
    with pytest.raises(ImproperlyConfigured, match="MITREWISE_KEPT_DAYS must look like"):
        kept(text)


def test_a_task_keeps_to_each_row_of_the_table() -> None:
    tasks_of_all = [path.read_text() for path in ROOT.glob("*/**/tasks.py")]
    tasks_of_all += [(ROOT / "drives/tasks.py").read_text()]
    kept_to = set(re.findall(r'(?:KEPT|until)\["(\w+)"\]', " ".join(tasks_of_all)))
    assert kept_to == set(TABLE)


def test_what_is_over_goes_after_its_time(cast: Cast, desk: Desk, settings: Settings) -> None:
    now = timezone.now()
    today = timezone.localdate(now)
    for days in (3, 9):
        day = today - timedelta(days=days)
        Absence.objects.create(member=cast.vera, first=day, last=day)
    for days in (80, 100):
        note = leave_note(
            code=code_of(desk.square("A1"), now=now),
            text="At the ferry.",
            contact="0999 1",
            now=now - timedelta(days=days),
        )
        read_note(note=note, by=cast.cora, now=now - timedelta(days=days))
    leave_note(code=code_of(desk.square("A1"), now=now), text="Unread.", contact="", now=now)
    Invitation.objects.all().delete()
    for days in (20, 40):
        actions.invite_person(
            by=cast.olga,
            roles=[Role.VOLUNTEER],
            days=3,
            now=now - timedelta(days=days),
            email=f"in{days}@example.org",
        )
    tasks.forget_the_past()
    assert Absence.objects.count() == 1
    assert FinderNote.objects.count() == 2
    assert [row.email for row in Invitation.objects.all()] == ["in20@example.org"]
    settings.KEPT = kept("messages=30")
    tasks.forget_the_past()
    assert [row.text for row in FinderNote.objects.all()] == ["Unread."]
