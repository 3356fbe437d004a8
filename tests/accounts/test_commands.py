"""What whoever runs the site can do from a shell."""

import re
from io import StringIO

import pytest
from allauth.account.models import EmailAddress
from django.core.management import CommandError, call_command
from django.test import Client
from django.utils import timezone

from accounts import actions
from accounts.models import Invitation, Mail, Role, SecurityEvent, User
from tests.accounts.test_members import ONLY_OLGA
from tests.accounts.test_pages import sign_in
from tests.cast import NOW, Cast
from tests.matrix.world import make_world

pytestmark = pytest.mark.django_db


def manage(*words: str) -> list[str]:
    out = StringIO()
    call_command(*words, stdout=out)
    return out.getvalue().splitlines()


def test_a_person_is_found_by_name_or_address(cast: Cast) -> None:
    (line,) = manage("people", "find", "VERA@")
    assert "Vera <vera@example.org>, proven, may sign in" in line
    assert "Harbour Lane (volunteer)" in line
    assert len(manage("people", "find", "a")) > 1
    assert manage("people", "find", "nobody at all") == ["Nobody was found."]


def test_who_is_disabled_is_out_at_once_until_enabled(cast: Cast, client: Client) -> None:
    assert cast.vera.user
    _token, key = actions.make_token(user=cast.vera.user, name="x", now=timezone.now())
    sign_in(client, cast.vera)
    manage("people", "disable", "Vera@example.org")
    assert client.get("/me/").status_code == 302
    assert actions.use_token(key=key, now=timezone.now()) is None
    manage("people", "disable", "vera@example.org")
    manage("people", "enable", "vera@example.org")
    assert actions.use_token(key=key, now=timezone.now())
    kinds = SecurityEvent.objects.filter(about=cast.vera.user).order_by("pk")
    assert list(kinds.values_list("kind", flat=True)) == [
        "key-made", "disabled", "dead-key-used", "enabled",
    ]  # fmt: skip


def test_an_account_is_removed_unless_a_circle_needs_it(cast: Cast) -> None:
    manage("people", "remove", "vera@example.org")
    assert not User.objects.filter(email="vera@example.org").exists()
    with pytest.raises(CommandError, match=re.escape(ONLY_OLGA)):
        manage("people", "remove", "olga@example.org")


@pytest.mark.parametrize("do", ["disable", "enable", "remove"])
def test_an_address_that_nobody_has_is_told(db: None, do: str) -> None:
    with pytest.raises(CommandError, match="Nobody signs in as x"):
        manage("people", do, "x@example.org")


def test_what_waits_for_an_answer_is_sent_again(cast: Cast) -> None:
    assert manage("people", "resend", "new@example.org")[0].startswith("Nothing waits")
    first = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=3, now=timezone.now(), email="new@example.org"
    )
    EmailAddress.objects.filter(user=cast.stan).update(verified=False)
    manage("people", "resend", "new@example.org")
    manage("people", "resend", "stan@example.org")
    assert not Invitation.objects.open(timezone.now()).filter(pk=first.invitation.pk).exists()
    again = Invitation.objects.open(timezone.now()).get(email="new@example.org")
    assert again.roles == {Role.VOLUNTEER}
    assert Mail.objects.filter(to="stan@example.org", body__contains="confirm-email").count() == 1


def test_a_closed_circle_is_listed_and_opened_again(cast: Cast) -> None:
    assert manage("circles") == []
    actions.close_circle(circle=cast.circle, by=cast.olga, now=NOW)
    (line,) = manage("circles")
    assert line == f"{cast.circle.pk}: Harbour Lane, removed after 2026-12-02"
    with pytest.raises(CommandError, match="No closed circle"):
        manage("circles", "--reopen", "999999")
    with pytest.raises(CommandError, match="Name with --for"):
        manage("circles", "--reopen", str(cast.circle.pk))
    manage("circles", "--reopen", str(cast.circle.pk), "--for", "olga@example.org")
    assert [member.name for member in cast.circle.members.present()] == ["Olga"]


def test_the_queues_are_told() -> None:
    make_world()
    lines = manage("queues")
    assert lines[0].startswith("documents: 1 waiting, the oldest for ")
    assert "mails: 0 waiting" in lines
    assert "documents: 1 queued" in lines


def test_there_are_no_superusers() -> None:
    with pytest.raises(CommandError, match="There are no superusers here"):
        call_command("createsuperuser")
