"""The e-mail of an invitation."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from celery.exceptions import Retry
from django.core import mail
from django.core.mail.backends.base import BaseEmailBackend
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from accounts import actions
from accounts.actions import Invited
from accounts.models import Invitation, Role
from accounts.tasks import mail_invitation
from tests.cast import DAY, Cast
from tests.mail_server import HANG_UP, MailServer, running
from tests.racing import race
from tests.services import free_port


class Killed(BaseEmailBackend):
    """A worker that is killed while it talks with the mail server."""

    def send_messages(self, messages: Any) -> int:
        raise SystemExit


def invite(cast: Cast) -> Invited:
    return actions.invite_person(
        by=cast.olga,
        roles=[Role.VOLUNTEER],
        days=14,
        now=timezone.now(),
        email="nora@example.org",
    )


def send(invited: Invited) -> None:
    mail_invitation(invitation_id=invited.invitation.pk, token=invited.token)


def fate(invited: Invited) -> str:
    """What became of its e-mail."""
    invitation = Invitation.objects.get(pk=invited.invitation.pk)
    if invitation.mailed_at:
        return "mailed"
    return "taken" if invitation.mail_taken_at else "waiting"


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
    invited = invite(cast)
    # Noon in UTC, one in the morning of the next day in Auckland's summer time.
    noon = datetime(2099, 1, 31, 12, tzinfo=UTC)
    Invitation.objects.filter(pk=invited.invitation.pk).update(expires_at=noon)
    send(invited)
    (message,) = mail.outbox
    assert message.to == ["nora@example.org"]
    assert message.subject == "Olga invites you to Harbour Lane"
    body = str(message.body)
    assert "Harbour Lane, a circle that makes mitred-square blankets together" in body
    assert "as volunteer" in body
    assert "until 1 Feb 2099, 1 a.m." in body
    link = re.search(r"https://circle\.example(/\S+)", body)
    assert link
    assert client.get(link[1]).status_code == 200


def test_the_mail_speaks_the_circles_english(cast: Cast) -> None:
    cast.circle.english = "american"
    cast.circle.save(update_fields=["english"])
    invited = invite(cast)
    Invitation.objects.update(expires_at=datetime(2099, 2, 1, 12, tzinfo=UTC))
    send(invited)
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
    assert "on_commit" in caplog.text


def test_one_that_another_worker_has_is_let_be(cast: Cast) -> None:
    invited = invite(cast)
    now = timezone.now()
    assert actions.take_invitation_mail(invitation=invited.invitation, now=now)
    assert not actions.take_invitation_mail(invitation=invited.invitation, now=now)
    send(invited)
    assert (mail.outbox, fate(invited)) == ([], "taken")


def test_what_a_worker_had_when_it_was_killed_is_never_sent_again(
    cast: Cast, settings: Settings
) -> None:
    invited = invite(cast)
    usual, settings.EMAIL_BACKEND = settings.EMAIL_BACKEND, f"{__name__}.Killed"
    with pytest.raises(SystemExit):
        send(invited)
    settings.EMAIL_BACKEND = usual
    send(invited)
    assert (mail.outbox, fate(invited)) == ([], "taken")


def test_no_server_there_it_is_sent_later(cast: Cast, settings: Settings) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", free_port()
    invited = invite(cast)
    with pytest.raises(ConnectionRefusedError):
        send(invited)
    assert fate(invited) == "waiting"
    with running(MailServer()) as server:
        settings.EMAIL_PORT = server.port
        send(invited)
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
    with pytest.raises(Retry):
        send(invited)
    assert fate(invited) == "waiting"
    server.answers, server.got = {}, []
    send(invited)
    send(invited)
    assert (len(server.got), fate(invited)) == (1, "mailed")


@pytest.mark.parametrize(
    "answers",
    [
        {"RCPT": "550 nobody here by that name"},
        {".": "554 I take this for rubbish"},
        {".": HANG_UP},
    ],
)
def test_refused_for_good_or_perhaps_accepted_it_is_not_sent_again(
    cast: Cast, server: MailServer, answers: dict[str, str], client: Client
) -> None:
    server.answers = answers
    invited = invite(cast)
    send(invited)
    server.answers, server.got = {}, []
    send(invited)
    assert (server.got, fate(invited)) == ([], "taken")
    assert cast.olga.user
    client.force_login(cast.olga.user)
    page = client.get(f"/circles/{cast.circle.pk}/people/").content
    assert b"it may not have arrived" in page


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_two_deliveries_at_once_send_one(cast: Cast) -> None:
    invited = invite(cast)
    now = timezone.now()
    race(
        lambda: actions.take_invitation_mail(invitation=invited.invitation, now=now),
        lambda: send(invited),
    )
    assert (mail.outbox, fate(invited)) == ([], "taken")
