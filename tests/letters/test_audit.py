"""Letters broken by SQL: the audit names each."""

import pytest
from django.db.models import F

from drives.actions.circles.letters import queue_letter
from drives.actions.paper.codes import code_of
from drives.actions.paper.finders import leave_note
from drives.audit.letters import audit_letters
from drives.letters.schedule import queue_due
from drives.models import Letter, Subject
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk
from tests.letters.conftest import collect


@pytest.fixture
def _letters(desk: Desk, cast: Cast) -> None:
    """A reminder for Vera, two about a finder's message, and one that has nothing to say."""
    desk.claim("A1", cast.vera)
    queue_due(NOW + 12 * DAY)
    leave_note(code=code_of(desk.square("A1"), now=NOW), text="Found", contact="", now=NOW)
    queue_letter(member=cast.olga, subject=Subject.MONDAY, about="another day", now=NOW)
    collect(NOW + 12 * DAY)


def found() -> set[str]:
    return {finding.what for finding in audit_letters()}


@pytest.mark.usefixtures("_letters")
def test_all_is_well() -> None:
    assert Letter.objects.count() == 4
    assert found() == set()


@pytest.mark.usefixtures("_letters")
def test_each_fault_is_named(cast: Cast) -> None:
    Letter.objects.filter(subject=Subject.DUE_SOON).update(member=cast.olga)
    assert found() == {"it is about somebody else’s claim."}
    Letter.objects.update(claim=None)
    stranger = cast.stan.memberships.get()
    Letter.objects.filter(subject=Subject.FOUND, member=cast.cora).update(member=stranger)
    assert found() == {"it is about a finder’s message to another circle."}
    Letter.objects.update(note=None)
    queued = F("queued_at")
    Letter.objects.update(taken_at=queued, sent_at=None, dropped_at=queued)
    assert found() == set()
    Letter.objects.update(taken_at=None)
    assert found() == {"it was dropped, but nobody had taken it."}
