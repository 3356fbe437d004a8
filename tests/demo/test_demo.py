"""The demo: loaded once, sound in every invariant, and never in production."""

from collections.abc import Callable
from datetime import timedelta
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.test import Client, override_settings
from django.utils import timezone

from accounts.models import Circle, Event, Member, User
from drives.audit import audit
from drives.craft.colours.plan import Impossible
from drives.craft.gauge.tension import Compared, Tension
from drives.craft.layout.layout import Mitre
from drives.demo import people
from drives.models import Blanket, Claim, Drive, Measurement, Piece, StoredState
from drives.pages.common.log.line import log_lines
from drives.readings.board import board_of
from drives.readings.checks import drive_checks
from drives.readings.colour_plans import colours_wanted, draft

pytestmark = pytest.mark.django_db


@pytest.fixture
def load(tmp_path: Path) -> Callable[[], str]:
    """Runs the command and answers what it says; the logins go to a file of this test."""

    def run() -> str:
        said = StringIO()
        with override_settings(LOGINS_FILE=tmp_path / "logins.txt"):
            call_command("demo", stdout=said)
        return said.getvalue()

    return run


def test_it_is_loaded_once_and_is_sound(load: Callable[[], str], tmp_path: Path) -> None:
    load()
    events = Event.objects.count()
    assert list(audit()) == []
    _shows_everything()
    _finds_out_in_time()
    _looks_real()
    _can_be_told()
    _everybody_can_sign_in((tmp_path / "logins.txt").read_text())

    (tmp_path / "logins.txt").unlink()
    assert load() == "The demo is here already; nothing was changed.\n"
    assert Event.objects.count() == events
    assert people.PASSWORD in (tmp_path / "logins.txt").read_text()


def _can_be_told() -> None:
    """Each event has all that its sentence needs."""
    lines = log_lines(Event.objects.select_related("by", "circle"))
    assert [line.words for line in lines if f": {line.event.verb}" in line.words] == []
    assert [line.words for line in lines if "somebody" in line.words] == []


def _shows_everything() -> None:
    """What the issue asks to be seen in it."""
    now = timezone.now()
    lap = Blanket.objects.get(columns=12, rows=16)
    board = board_of(lap)
    assert 60 <= len(board.finished) <= 130
    assert board.offers
    assert {claim.member.is_paper for claim in board.late(now)} == {True, False}
    assert len(board.claims) > len(list(board.late(now)))
    assert board.colours
    small = Blanket.objects.get(columns=5, rows=5)
    assert (small.mitre, small.drive.for_babies) == (Mitre.CENTRED, True)
    first = board_of(Blanket.objects.get(columns=3, rows=3, stitches=20))
    assert not first.finished
    assert not first.taken
    large = next(layout for layout in (b.layout() for b in Blanket.objects.all()) if layout.large)
    assert large.missing
    assert large.seams
    assert Piece.objects.filter(ended_at=None, holder__isnull=False).exists()
    members = Member.objects.filter(circle=lap.drive.circle)
    assert {member.hand for member in members} == {"right", "left"}
    assert set().union(*(member.roles for member in members)) == {
        "organiser",
        "coordinator",
        "volunteer",
    }
    assert members.filter(user=None).count() >= 2
    assert Circle.objects.count() == 2
    assert Drive.objects.filter(circle=lap.drive.circle).count() == 3


def _finds_out_in_time() -> None:
    """Wool is refused before it is knitted, a colour is short, one hand is loose."""
    quiet = Blanket.objects.select_related("drive__circle").get(columns=10, rows=14)
    assert not quiet.squares.filter(state=StoredState.FINISHED).exists()
    codes = {check.conflict.code for check in drive_checks(quiet.drive, blanket=quiet)}
    assert "fibre-refused" in codes
    answer = draft(quiet, colours_wanted(quiet)).answer()
    assert isinstance(answer, Impossible)
    (reason,) = answer.reasons
    assert reason.facts["colours"] == ["sky"]
    assert reason.facts["short"] == 58
    loose = Measurement.objects.get(member__name="Lenka")
    told = Compared(float(loose.blanket.gauge), loose.stitches / float(loose.width) * 10)
    needle = told.next_needle(float(loose.needle or 0))
    assert told.tension is Tension.LOOSE
    assert needle
    assert (needle.mm, needle.us, needle.uk) == (4.5, "7", "7")


def _looks_real() -> None:
    """Everything was done by somebody, in the past, in the order of time."""
    now = timezone.now()
    for blanket in Blanket.objects.all():
        events = Event.objects.about("blanket", blanket.pk).order_by("pk")
        times = [event.at for event in events]
        assert times == sorted(times)
        assert times[-1] <= now
        assert all(event.by for event in events)
    assert Claim.objects.filter(ended_at=None, due_at__lt=now - timedelta(days=14)).count() == 0


def _everybody_can_sign_in(logins: str) -> None:
    for user in User.objects.all():
        assert user.email.endswith("@example.org")
        assert user.email in logins
        assert Client().login(username=user.email, password=people.PASSWORD) or Client().login(
            email=user.email, password=people.PASSWORD
        )


@override_settings(PRODUCTION=True)
def test_it_is_refused_in_production(load: Callable[[], str], tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="never put into production"):
        load()
    assert not User.objects.exists()
    assert not (tmp_path / "logins.txt").exists()
