"""Once, and never lost: queues and mail servers that fail, workers that are killed."""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from django.core import mail
from django.db import IntegrityError, transaction
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from accounts.actions import drop_post, keep_post, note_post_sent, put_back_post, take_post
from accounts.models.posted import FIRST_WAIT, LEASE, MOST_ATTEMPTS
from drives.actions.circles import letters
from drives.actions.circles.letters import queue_letter
from drives.actions.squares.claims import remind_knitter
from drives.audit.letters import audit_letters
from drives.letters import tasks
from drives.letters.post import deliver
from drives.letters.schedule import queue_due
from drives.models import Letter, Subject
from shared import celery_app
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk
from tests.letters.conftest import collect, fates, post
from tests.mail_server import HANG_UP, SILENCE, MailServer, running
from tests.racing import race
from tests.services import free_port

SOON = NOW + 12 * DAY
MINUTE, SECOND = timedelta(minutes=1), timedelta(seconds=1)


@pytest.fixture
def letter(desk: Desk, cast: Cast) -> Letter:
    """Queued at SOON: Vera's square is due in two days."""
    desk.claim("A1", cast.vera)
    queue_due(SOON)
    return Letter.objects.get()


@pytest.fixture
def server(settings: Settings) -> Iterator[MailServer]:
    """A real one, to which Django really talks."""
    with running(MailServer()) as server:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
        settings.EMAIL_TIMEOUT = 5
        yield server


def test_queued_twice_it_is_one(letter: Letter, cast: Cast) -> None:
    queue_due(SOON)
    about = letter.about
    assert not queue_letter(member=cast.vera, subject=Subject.DUE_SOON, about=about, now=SOON)
    assert queue_letter(member=cast.vera, subject=Subject.LATE, about=about, now=SOON)
    assert Letter.objects.count() == 2


def test_delivered_twice_it_is_sent_once(letter: Letter) -> None:
    deliver(letter.pk, SOON)
    deliver(letter.pk, SOON)
    deliver(letter.pk, SOON + DAY)
    assert len(mail.outbox) == 1
    letter.refresh_from_db()
    assert (letter.attempt, letter.taken_at, letter.sent_at) == (1, SOON, SOON)


def test_one_in_other_hands_is_let_be(letter: Letter) -> None:
    assert take_post(row=letter, now=SOON)
    assert not take_post(row=letter, now=SOON)
    deliver(letter.pk, SOON + LEASE)
    assert (mail.outbox, fates()) == ([], ["in hand"])


AHEAD = SOON + timedelta(hours=6)


def test_what_was_queued_by_a_clock_that_was_put_back_is_sent_now(letter: Letter) -> None:
    Letter.objects.update(queued_at=AHEAD, not_before=AHEAD)
    collect(SOON)
    assert (len(mail.outbox), fates()) == (1, ["sent"])


def test_a_lease_of_a_clock_that_was_put_back_holds_nobody_up(letter: Letter) -> None:
    assert take_post(row=letter, now=AHEAD)
    collect(SOON)
    assert (len(mail.outbox), fates()) == (1, ["sent"])


def test_a_wait_of_a_clock_that_was_put_back_is_as_long_as_it_was_meant(letter: Letter) -> None:
    assert take_post(row=letter, now=AHEAD)
    put_back_post(row=letter, now=AHEAD)
    collect(SOON)
    assert (len(mail.outbox), fates()) == (1, ["sent"])


@pytest.mark.parametrize("attempt", range(1, MOST_ATTEMPTS))
def test_every_wait_that_is_given_is_waited_for(letter: Letter, attempt: int) -> None:
    Letter.objects.update(attempt=attempt - 1)
    letter.refresh_from_db()
    assert take_post(row=letter, now=SOON)
    put_back_post(row=letter, now=SOON)
    letter.refresh_from_db()
    assert not Letter.objects.to_send(letter.not_before - SECOND)
    assert not Letter.objects.to_send(SOON)
    assert Letter.objects.to_send(letter.not_before)


def test_what_a_killed_worker_had_is_sent_by_another_as_the_same(letter: Letter) -> None:
    assert take_post(row=letter, now=SOON)
    collect(SOON + LEASE + SECOND)
    assert (fates(), letter.attempt) == (["sent"], 1)
    letter.refresh_from_db()
    assert letter.attempt == 2
    assert mail.outbox[0].message()["Message-ID"] == letter.message_id


def test_who_lives_keeps_it_and_who_was_thought_dead_changes_nothing(letter: Letter) -> None:
    slow, quick = letter, Letter.objects.get()
    assert take_post(row=slow, now=SOON)
    keep_post(row=slow, now=SOON + LEASE)
    assert not take_post(row=quick, now=SOON + LEASE + SECOND)
    later = SOON + 2 * LEASE + SECOND
    assert take_post(row=quick, now=later)
    keep_post(row=slow, now=later + LEASE)
    put_back_post(row=slow, now=later)
    drop_post(row=slow, now=later)
    assert fates() == ["in hand"]
    note_post_sent(row=quick, now=later)
    assert fates() == ["sent"]


def test_one_that_kills_every_worker_is_given_up_and_the_audit_says_so(letter: Letter) -> None:
    at = SOON
    for _attempt in range(MOST_ATTEMPTS):
        assert take_post(row=letter, now=at)
        at += LEASE + SECOND
    collect(at)
    assert (mail.outbox, fates()) == ([], ["dropped"])
    (finding,) = audit_letters()
    assert finding.what == "nobody knows whether the mail server has taken it."


def test_one_that_is_gone_is_nothing_to_do(letter: Letter) -> None:
    letter_id = letter.pk
    letter.delete()
    deliver(letter_id, SOON)
    assert mail.outbox == []


def test_its_message_is_sent_on_commit(
    desk: Desk, cast: Cast, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    desk.claim("A1", cast.vera)
    with django_capture_on_commit_callbacks() as queued:
        queue_due(SOON)
        queue_due(SOON)
    assert len(queued) == 1


def test_a_queue_that_is_down_loses_nothing(
    desk: Desk,
    cast: Cast,
    settings: Settings,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
    caplog: pytest.LogCaptureFixture,
) -> None:
    if "data_folder_out" not in settings.CELERY_BROKER_TRANSPORT_OPTIONS:
        pytest.skip("only a queue of files can be taken away for a moment")
    desk.claim("A1", cast.vera)
    queue = Path(settings.CELERY_BROKER_TRANSPORT_OPTIONS["data_folder_out"])
    away = queue.rename(queue.with_name("away"))
    try:
        with django_capture_on_commit_callbacks(execute=True):
            queue_due(SOON)
    finally:
        away.rename(queue)
    assert "The queue is away" in caplog.text
    assert fates() == ["waiting"]
    collect(SOON + MINUTE)  # what the sweep finds
    assert fates() == ["sent"]


@pytest.fixture
def _tasks_at_once() -> Iterator[None]:
    """Tasks run where they are queued."""
    celery_app.conf.update(task_always_eager=True, task_eager_propagates=True)
    yield
    celery_app.conf.update(task_always_eager=False, task_eager_propagates=False)


@pytest.mark.usefixtures("_tasks_at_once")
def test_the_sweep_sends_what_waits(desk: Desk, cast: Cast) -> None:
    now = timezone.now()  # as the tasks have it
    claim = desk.claim("A1", cast.vera, at=now - 15 * DAY)
    assert remind_knitter(claim=claim, now=now)
    tasks.send_letters()
    tasks.send_letters()
    tasks.forget_letters()
    assert (len(mail.outbox), fates()) == (1, ["sent"])


def test_the_clock_and_the_workers_know_the_tasks(settings: Settings) -> None:
    celery_app.loader.import_default_modules()
    known = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    ours = {task.name for task in (tasks.queue_letters, tasks.send_letters, tasks.forget_letters)}
    assert ours <= known
    assert {letters.MAIL, *known} <= celery_app.tasks.keys()


def test_a_server_that_accepts_it_has_it(letter: Letter, server: MailServer) -> None:
    deliver(letter.pk, SOON)
    (got,) = server.got
    assert "To: vera@example.org" in got
    assert fates() == ["sent"]


def test_no_server_there_it_is_sent_later(letter: Letter, settings: Settings) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", free_port()
    collect(SOON)
    collect(SOON)  # it waits a little
    assert fates() == ["waiting"]
    with running(MailServer()) as server:
        settings.EMAIL_PORT = server.port
        collect(SOON + FIRST_WAIT)
    assert (len(server.got), fates()) == (1, ["sent"])


@pytest.mark.parametrize(
    ("answers", "fate"),
    [
        ({"hello": "421 not now"}, "waiting"),
        ({"hello": HANG_UP}, "waiting"),
        ({"RCPT": HANG_UP}, "waiting"),
        ({"DATA": HANG_UP}, "waiting"),
        ({"EHLO": "421 not now", "HELO": "421 not now"}, "waiting"),
        ({"MAIL": "550 I do not know you"}, "waiting"),
        ({"RCPT": "450 mailbox is busy"}, "waiting"),
        ({"RCPT": "550 nobody here by that name"}, "dropped"),
        ({"DATA": "451 not now"}, "waiting"),
        ({".": "452 the disk is full"}, "waiting"),
        ({".": "554 I take this for rubbish"}, "dropped"),
    ],
)
def test_a_clear_no_is_known(
    letter: Letter, server: MailServer, answers: dict[str, str], fate: str
) -> None:
    server.answers = answers
    deliver(letter.pk, SOON)
    assert fates() == [fate]
    server.answers = {}
    read = len(server.got)
    collect(SOON + FIRST_WAIT)
    assert fates() == ["sent" if fate == "waiting" else "dropped"]
    assert len(server.got) - read == (fate == "waiting")


@pytest.mark.parametrize("answers", [{".": HANG_UP}, {".": "hm"}])
def test_what_may_have_been_accepted_is_sent_once_more_as_the_same(
    letter: Letter,
    server: MailServer,
    answers: dict[str, str],
    caplog: pytest.LogCaptureFixture,
) -> None:
    server.answers = answers
    deliver(letter.pk, SOON)
    assert f"letter {letter.pk} may be sent or not" in caplog.text
    assert (fates(), list(audit_letters())) == (["waiting"], [])
    server.answers = {}
    collect(SOON + FIRST_WAIT)
    collect(SOON + DAY)
    assert fates() == ["sent"]
    first, second = (re.findall(r"^Message-ID: (\S+)", got, re.M) for got in server.got)
    assert first == second == [letter.message_id]


def test_what_is_unclear_twice_is_left_to_a_human(letter: Letter, server: MailServer) -> None:
    server.answers = {".": HANG_UP}
    for day in range(4):
        collect(SOON + day * DAY)
    assert (len(server.got), fates()) == (2, ["dropped"])
    (finding,) = audit_letters()
    assert finding.what == "nobody knows whether the mail server has taken it."


def test_a_server_that_hangs_before_the_message_has_not_taken_it(
    letter: Letter, server: MailServer, settings: Settings
) -> None:
    settings.EMAIL_TIMEOUT = 0.3
    server.answers = {"RCPT": SILENCE}
    deliver(letter.pk, SOON)
    letter.refresh_from_db()
    assert (letter.taken_at, letter.unclear_at) == (None, None)


def test_each_try_waits_twice_as_long_and_the_last_gives_up(
    letter: Letter, server: MailServer
) -> None:
    Letter.objects.update(attempt=MOST_ATTEMPTS - 2)
    server.answers = {"MAIL": "421 not now"}
    deliver(letter.pk, SOON)
    letter.refresh_from_db()
    wait = FIRST_WAIT * 2 ** (MOST_ATTEMPTS - 2)
    assert letter.not_before == SOON + wait
    collect(SOON + wait - MINUTE)
    assert fates() == ["waiting"]
    deliver(letter.pk, SOON + wait)
    assert fates() == ["dropped"]


def test_parting_badly_is_no_failure(letter: Letter, server: MailServer) -> None:
    server.answers = {"QUIT": HANG_UP}
    deliver(letter.pk, SOON)
    assert fates() == ["sent"]


def test_old_letters_are_forgotten(letter: Letter, cast: Cast) -> None:
    deliver(letter.pk, SOON)
    assert letters.forget_old_letters(before=SOON) == 0
    assert letters.forget_old_letters(before=SOON + MINUTE) == 1
    assert not Letter.objects.exists()


def test_none_is_sent_that_nobody_has_taken(letter: Letter) -> None:
    with (
        pytest.raises(IntegrityError, match="letter_taken_before_it_is_sent"),
        transaction.atomic(),
    ):
        Letter.objects.filter(pk=letter.pk).update(sent_at=SOON, taken_at=None)


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
class TestTwoAtOnce:
    """With one transaction held open while another wants the same row."""

    def test_two_who_queue_it_write_one(self, desk: Desk, cast: Cast) -> None:
        def queue() -> bool:
            return queue_letter(member=cast.vera, subject=Subject.LATE, about="1", now=NOW)

        assert race(queue, queue) is False
        assert Letter.objects.count() == 1

    def test_two_who_deliver_it_send_one(self, letter: Letter) -> None:
        race(lambda: take_post(row=letter, now=SOON), lambda: deliver(letter.pk, SOON))
        assert (mail.outbox, fates()) == ([], ["in hand"])

    def test_two_clocks_remind_once(self, desk: Desk, cast: Cast) -> None:
        desk.claim("A1", cast.vera)
        late = NOW + 15 * DAY
        race(lambda: post(late), lambda: post(late))
        assert len(mail.outbox) == 1
        assert desk.verbs().count("reminded") == 1
