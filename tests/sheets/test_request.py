"""Asking for a sheet: one for each state of the blanket, kept whatever the queue does."""

import base64
import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings
from pytest_django import DjangoCaptureOnCommitCallbacks

from accounts.actions import change_member
from accounts.models import Event, Topic
from drives.actions.drives.drives import change_drive
from drives.actions.paper.sheets import RENDER, request_sheet, resend_sheets
from drives.models import Options, Paper, Sheet, Status
from drives.models.sheet import MESSAGE_PATIENCE
from drives.sheets.kinds import STATUS
from shared.workers import queue
from tests.cast import Cast
from tests.desk import DAY, NOW, SETTINGS, Desk, nothing_changes
from tests.sheets.conftest import ask

QUEUE = Path(settings.DATA_DIR) / "queue" / "waiting"


embedded = pytest.mark.skipif(
    not QUEUE.exists(), reason="needs the embedded queue, where messages are files"
)


@pytest.fixture
def _empty_queue() -> None:
    for message in QUEUE.iterdir():
        message.unlink()


def waiting() -> int:
    """Messages in the queue of the embedded default."""
    return len(list(QUEUE.iterdir()))


@contextmanager
def no_queue() -> Iterator[None]:
    """As if its disk were gone."""
    away = QUEUE.rename(QUEUE.with_name("away"))
    try:
        yield
    finally:
        away.rename(QUEUE)


def test_same_state_gives_the_same_sheet_and_writes_nothing(desk: Desk, cast: Cast) -> None:
    first = ask(desk.blanket, cast)
    with nothing_changes():
        assert ask(desk.blanket, cast, NOW + timedelta(hours=3)) == first


def test_request_is_noted_under_the_drive_so_that_the_blanket_stays_as_it_was(
    desk: Desk, cast: Cast
) -> None:
    before = desk.blanket.revision()
    ask(desk.blanket, cast)
    assert desk.blanket.revision() == before
    event = Event.objects.about(Topic.DRIVE, desk.blanket.drive_id)[0]
    assert (event.verb, event.by) == ("sheet-requested", cast.cora)
    assert event.facts == {"blanket": "Blanket", "kind": "status", "paper": "A4"}


def test_whatever_the_sheet_shows_makes_another_one(desk: Desk, cast: Cast) -> None:
    seen = {ask(desk.blanket, cast).pk}

    def another(hours: int = 0, paper: str = Paper.A4) -> bool:
        desk.blanket.refresh_from_db()
        seen.add(sheet := ask(desk.blanket, cast, NOW + timedelta(hours=hours), paper).pk)
        return sheet == max(seen) and len(seen) == Sheet.objects.count()

    assert another(paper=Paper.LETTER)
    desk.claim("A1", cast.paul, by=cast.cora)
    assert another()
    change_member(member=cast.paul, by=cast.cora, name="Paulo", reach="", hand="right", now=NOW)
    assert another()
    desk.finish("A1", cast.cora)
    assert another()
    change_drive(
        drive=desk.blanket.drive, by=cast.olga, now=NOW, **(SETTINGS | {"for_babies": False})
    )
    assert another()
    assert another(hours=14)  # NOW is ten o'clock: midnight is past


def test_a_square_that_becomes_late_during_the_day_makes_another_one(
    desk: Desk, cast: Cast
) -> None:
    due = desk.claim("A1", cast.vera).due_at
    before = ask(desk.blanket, cast, due - timedelta(minutes=1))
    after = ask(desk.blanket, cast, due + timedelta(minutes=1))
    assert before != after


def test_the_day_is_the_circles_own(desk: Desk, cast: Cast) -> None:
    circle = desk.blanket.drive.circle
    circle.time_zone = "Pacific/Auckland"  # NOW is 23 o'clock there
    circle.save(update_fields=["time_zone"])
    assert ask(desk.blanket, cast) != ask(desk.blanket, cast, NOW + timedelta(hours=1))


def test_a_failed_sheet_may_be_asked_for_again(desk: Desk, cast: Cast) -> None:
    failed = ask(desk.blanket, cast)
    Sheet.objects.update(status=Status.FAILED)
    again = ask(desk.blanket, cast)
    assert again != failed
    assert again.status == Status.QUEUED


@embedded
@pytest.mark.usefixtures("_empty_queue")
def test_message_carries_only_the_id(
    desk: Desk, cast: Cast, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        sheet = ask(desk.blanket, cast)
    (file,) = QUEUE.iterdir()
    message = json.loads(file.read_text())
    assert message["headers"]["task"] == RENDER
    body = json.loads(base64.b64decode(message["body"]))
    assert body[:2] == [[], {"sheet_id": sheet.pk}]


@embedded
@pytest.mark.usefixtures("_empty_queue")
def test_request_is_kept_while_the_queue_is_down_and_sent_later(
    desk: Desk,
    cast: Cast,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
    caplog: pytest.LogCaptureFixture,
) -> None:
    with no_queue(), django_capture_on_commit_callbacks(execute=True):
        sheet = ask(desk.blanket, cast)
    assert "The queue is away" in caplog.text
    assert Sheet.objects.get().status == Status.QUEUED
    assert waiting() == 0
    queue.circuit.forget()  # as after some seconds
    with django_capture_on_commit_callbacks(execute=True):
        later = NOW + MESSAGE_PATIENCE + timedelta(seconds=1)
        assert resend_sheets(error="", now=later) == 1
    assert waiting() == 1
    assert Sheet.objects.get() == sheet


def test_a_day_later_it_is_another_sheet(desk: Desk, cast: Cast) -> None:
    assert ask(desk.blanket, cast) != ask(desk.blanket, cast, NOW + DAY)


@embedded
@pytest.mark.usefixtures("_empty_queue")
def test_what_somebody_waits_for_comes_forward_out_of_a_batch(
    desk: Desk, cast: Cast, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    def queues() -> list[str]:
        return sorted(file.name.split(".")[-2] for file in QUEUE.iterdir())

    options = Options(paper=Paper.A4).stored()
    with django_capture_on_commit_callbacks(execute=True):
        behind = request_sheet(
            blanket=desk.blanket, by=cast.cora, kind=STATUS, options=options, now=NOW,
            in_batch=True,
        )  # fmt: skip
    assert queues() == ["batches"]
    with django_capture_on_commit_callbacks(execute=True):
        assert ask(desk.blanket, cast) == behind
    assert queues() == ["batches", "soon"]
    with django_capture_on_commit_callbacks(execute=True):
        resend_sheets(error="", now=NOW + MESSAGE_PATIENCE + timedelta(seconds=1))
    assert queues() == ["batches", "soon", "soon"]
    with nothing_changes():
        ask(desk.blanket, cast)
