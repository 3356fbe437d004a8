"""Mails: of an invitation, and those that allauth sends."""

import re
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.core import mail
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from accounts import actions
from accounts.actions import Invited
from accounts.actions.mails import MAIL
from accounts.models import Invitation, Mail, Role, Session
from accounts.models.posted import FIRST_WAIT, LEASE
from accounts.post import deliver
from accounts.tasks import (
    forget_mails,
    forget_sessions,
    mail_invitation,
    message_of,
    send_mails,
)
from shared import celery_app
from tests.cast import DAY, PASSWORD, Cast
from tests.mail_server import HANG_UP, SILENCE, MailServer, running
from tests.postman import outbox
from tests.racing import race
from tests.services import free_port


def invite(cast: Cast, until: datetime | None = None) -> Invited:
    days, now = 14, timezone.now()
    if until:
        days, now = 1, until - DAY
    invited = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=days, now=now, email="nora@example.org"
    )
    Mail.objects.update(not_before=timezone.now())
    return invited


def send(invited: Invited, later: timedelta = timedelta()) -> None:
    """What the sweep would have sent ``later``."""
    now = timezone.now() + later
    row = Mail.objects.to_send(now).filter(invitation=invited.invitation).first()
    if row:
        deliver(row, lambda: message_of(row), now)
    actions.close_mails()


def fate(invited: Invited) -> str:
    """What became of its e-mail, as its row says."""
    invitation = Invitation.objects.get(pk=invited.invitation.pk)
    if invitation.mailed_at:
        return "mailed"
    if invitation.mail_failed_at:
        return "failed"
    return "unclear" if invitation.mail_taken_at else "waiting"


def words_kept() -> set[bool]:
    return {bool(body) for body in Mail.objects.values_list("body", flat=True)}


@pytest.fixture
def server(settings: Settings) -> Iterator[MailServer]:
    """A real one, to which Django really talks."""
    with running(MailServer()) as server:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
        settings.EMAIL_TIMEOUT = 5
        yield server


def test_the_mail_says_who_invites_to_what_and_until_when(
    cast: Cast, client: Client, settings: Settings
) -> None:
    settings.SITE_URL = "https://circle.example"
    cast.circle.time_zone = "Pacific/Auckland"
    cast.circle.save(update_fields=["time_zone"])
    # Noon in UTC, one in the morning of the next day in Auckland's summer time.
    send(invite(cast, until=datetime(2099, 1, 31, 12, tzinfo=UTC)))
    (message,) = mail.outbox
    assert message.to == ["nora@example.org"]
    assert message.subject == "Olga invites you to Harbour Lane"
    body = str(message.body)
    assert "Harbour Lane, a circle that makes mitred-square blankets together" in body
    assert "Your role there: volunteer" in body
    assert "until 1 Feb 2099, 1 a.m." in body
    link = re.search(r"https://circle\.example(/\S+)", body)
    assert link
    assert client.get(link[1]).status_code == 200


def test_the_mail_speaks_the_circles_english(cast: Cast) -> None:
    cast.circle.english = "american"
    cast.circle.save(update_fields=["english"])
    send(invite(cast, until=datetime(2099, 2, 1, 12, tzinfo=UTC)))
    body = str(mail.outbox[0].body)
    assert "mitered-square" in body
    assert "until Feb. 1, 2099, noon" in body


def test_names_are_not_escaped_as_if_for_a_page(cast: Cast) -> None:
    cast.circle.name = "Knit & Natter"
    cast.circle.save(update_fields=["name"])
    send(invite(cast))
    assert mail.outbox[0].subject == "Olga invites you to Knit & Natter"
    assert "Knit & Natter" in str(mail.outbox[0].body)


def test_a_task_that_comes_twice_sends_once(cast: Cast) -> None:
    invited = invite(cast)
    send(invited)
    send(invited)
    assert (len(mail.outbox), fate(invited)) == (1, "mailed")


def test_an_invitation_that_was_revoked_meanwhile_is_not_sent(cast: Cast) -> None:
    invited = invite(cast)
    actions.revoke_invitation(invitation=invited.invitation, by=cast.olga, now=timezone.now() + DAY)
    send(invited)
    assert mail.outbox == []


def test_the_mail_is_asked_for_only_once_the_invitation_is_stored(
    cast: Cast, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    with django_capture_on_commit_callbacks() as queued:
        invite(cast)
    assert len(queued) == 1
    with django_capture_on_commit_callbacks() as queued:
        actions.invite_person(by=cast.olga, roles=[Role.VOLUNTEER], days=1, now=timezone.now())
    assert queued == []


def test_a_queue_that_is_down_does_not_undo_the_invitation(
    cast: Cast,
    settings: Settings,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
    caplog: pytest.LogCaptureFixture,
) -> None:
    if "data_folder_out" not in settings.CELERY_BROKER_TRANSPORT_OPTIONS:
        pytest.skip("only a queue of files can be taken away for a moment")
    queue = Path(settings.CELERY_BROKER_TRANSPORT_OPTIONS["data_folder_out"])
    away = queue.rename(queue.with_name("away"))
    try:
        with django_capture_on_commit_callbacks(execute=True):
            invited = invite(cast)
    finally:
        away.rename(queue)
    assert Invitation.objects.with_token(invited.token).exists()
    assert "The queue is away" in caplog.text


def test_one_that_another_worker_has_is_let_be(cast: Cast) -> None:
    invited = invite(cast)
    assert actions.take_post(row=Mail.objects.get(), now=timezone.now())
    send(invited)
    assert (mail.outbox, fate(invited)) == ([], "waiting")


def test_what_a_worker_had_when_it_was_killed_is_sent_by_another(cast: Cast) -> None:
    invited = invite(cast)
    assert actions.take_post(row=Mail.objects.get(), now=timezone.now())
    send(invited, 2 * LEASE)
    assert (len(mail.outbox), fate(invited)) == (1, "mailed")


def test_a_flushed_queue_loses_no_invitation_and_its_secret_is_kept_no_longer(cast: Cast) -> None:
    """The message on its way held nothing that the row does not."""
    invited = invite(cast)
    assert words_kept() == {True}
    send(invited)
    assert invited.token in str(mail.outbox[0].body)
    assert words_kept() == {False}


def test_a_message_of_earlier_days_is_understood(cast: Cast) -> None:
    invited = invite(cast)
    Mail.objects.all().delete()
    for _ in range(2):
        mail_invitation(invitation_id=invited.invitation.pk, token=invited.token)
    send(invited)
    mail_invitation(invitation_id=invited.invitation.pk, token=invited.token)
    assert (len(mail.outbox), Mail.objects.count()) == (1, 1)
    assert invited.token in str(mail.outbox[0].body)


def test_no_server_there_it_is_sent_later(cast: Cast, settings: Settings) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", free_port()
    invited = invite(cast)
    send(invited)
    assert fate(invited) == "waiting"
    with running(MailServer()) as server:
        settings.EMAIL_PORT = server.port
        send(invited, FIRST_WAIT)
    assert (len(server.got), fate(invited)) == (1, "mailed")


@pytest.mark.parametrize(
    "answers",
    [{"RCPT": "450 mailbox is busy"}, {"DATA": "451 not now"}, {".": "452 the disk is full"}],
)
def test_refused_for_now_it_is_sent_later(
    cast: Cast, server: MailServer, answers: dict[str, str]
) -> None:
    server.answers = answers
    invited = invite(cast)
    send(invited)
    assert (fate(invited), words_kept()) == ("waiting", {True})
    server.answers, server.got = {}, []
    send(invited, FIRST_WAIT)
    send(invited, DAY)
    assert (len(server.got), fate(invited)) == (1, "mailed")


@pytest.mark.parametrize(
    ("answers", "became", "told"),
    [
        ({"RCPT": "550 nobody here by that name"}, "failed", b"could not be"),
        ({".": "554 I take this for rubbish"}, "failed", b"could not be"),
        ({".": HANG_UP}, "unclear", b"it may not have arrived"),
    ],
)
def test_who_invited_is_told_what_became_of_it(
    cast: Cast,
    server: MailServer,
    answers: dict[str, str],
    became: str,
    told: bytes,
    client: Client,
) -> None:
    server.answers = answers
    invited = invite(cast)
    send(invited)
    send(invited, DAY)
    server.answers, server.got = {}, []
    send(invited, 2 * DAY)
    assert (server.got, fate(invited), words_kept()) == ([], became, {False})
    assert cast.olga.user
    client.force_login(cast.olga.user)
    assert told in client.get(f"/circles/{cast.circle.pk}/people/").content


@pytest.mark.parametrize("answers", [{"hello": HANG_UP}, {"hello": SILENCE}])
def test_signing_up_and_a_forgotten_password_wait_for_no_mail_server(
    db: None, client: Client, server: MailServer, answers: dict[str, str]
) -> None:
    server.answers = answers
    sent = {"name": "Nora", "email": "nora@example.org", "password1": PASSWORD}
    began = time.monotonic()
    assert client.post("/account/signup/", sent).status_code == 302
    client.logout()
    reset = client.post("/account/password/reset/", {"email": "nora@example.org"})
    assert reset.status_code == 302
    assert time.monotonic() - began < 5
    server.answers = {}
    assert Mail.objects.count() == 2
    outbox()
    assert len(server.got) == 2
    assert words_kept() == {False}


def test_old_mails_are_forgotten(cast: Cast, settings: Settings) -> None:
    send(invite(cast))
    forget_mails()
    assert Mail.objects.exists()
    Mail.objects.update(queued_at=timezone.now() - settings.KEPT["mails"] - DAY)
    forget_mails()
    assert not Mail.objects.exists()


def test_the_clock_and_the_workers_know_the_tasks(settings: Settings) -> None:
    celery_app.loader.import_default_modules()
    known = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    assert {send_mails.name, forget_mails.name, forget_sessions.name} <= known
    assert {MAIL, *known} <= celery_app.tasks.keys()


def test_sessions_that_have_ended_are_forgotten(db: None) -> None:
    Session.objects.create(session_key="old", expire_date=timezone.now() - DAY)
    Session.objects.create(session_key="young", expire_date=timezone.now() + DAY)
    forget_sessions()
    assert [session.pk for session in Session.objects.all()] == ["young"]


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_two_deliveries_at_once_send_one(cast: Cast) -> None:
    invited = invite(cast)
    row, now = Mail.objects.get(), timezone.now()
    race(lambda: actions.take_post(row=row, now=now), lambda: send(invited))
    assert (mail.outbox, fate(invited)) == ([], "waiting")
