"""What an operator can read when somebody was where they should not be."""

import io

import pytest
from django.conf import settings
from django.core.management import call_command
from django.test import Client, override_settings
from django.utils import timezone

from accounts import actions
from accounts.models import Role, SecurityEvent, SecurityKind
from tests.cast import NOW, PASSWORD, Cast

pytestmark = pytest.mark.django_db


def kinds() -> list[str]:
    return list(SecurityEvent.objects.order_by("id").values_list("kind", flat=True))


def sign_in(email: str, password: str, client: Client | None = None) -> int:
    sent = {"login": email, "password": password}
    return (client or Client()).post("/account/login/", sent).status_code


@pytest.fixture
def _vera(cast: Cast) -> None:
    SecurityEvent.objects.all().delete()


@pytest.mark.usefixtures("_vera")
def test_who_tries_in_vain_and_who_is_kept_out(cast: Cast) -> None:
    for _ in range(6):
        sign_in("vera@example.org", "my other password")
    sign_in("nobody@example.org", "x")

    assert kinds()[:5] == [SecurityKind.SIGN_IN_FAILED] * 5
    assert kinds()[5] == SecurityKind.SIGN_IN_LOCKED
    first, last = SecurityEvent.objects.last(), SecurityEvent.objects.first()
    assert first
    assert last
    assert (first.about, last.about) == (cast.vera.user, None)
    assert first.address == "127.0.0.1"
    assert first.request
    told = str(list(SecurityEvent.objects.values()))
    assert "nobody@example.org" not in told
    assert "my other password" not in told


@pytest.mark.usefixtures("_vera")
def test_a_good_sign_in_is_not_noted(cast: Cast) -> None:
    assert sign_in("vera@example.org", PASSWORD) == 302
    assert kinds() == []


@pytest.mark.usefixtures("_vera")
def test_keys_and_the_use_of_dead_ones(cast: Cast) -> None:
    assert cast.vera.user
    token, key = actions.make_token(user=cast.vera.user, name="phone", now=timezone.now())
    actions.revoke_token(token=token, now=timezone.now())
    actions.revoke_token(token=token, now=timezone.now())

    answer = Client().get("/api/v1/circles/", headers={"Authorization": f"Token {key}"})

    assert answer.status_code == 401
    assert kinds() == ["key-made", "key-revoked", "dead-key-used"]
    assert key not in str(list(SecurityEvent.objects.values()))


@pytest.mark.usefixtures("_vera")
def test_roles_removal_passwords_and_deletion(cast: Cast) -> None:
    vera, cora = cast.vera.user, cast.cora.user
    assert vera
    assert cora
    roles = [Role.COORDINATOR, Role.VOLUNTEER]
    actions.change_roles(member=cast.vera, by=cast.olga, roles=roles, now=NOW)
    actions.remove_member(member=cast.vera, by=cast.olga, now=NOW)
    actions.change_password(user=vera, password="another", now=NOW)
    actions.delete_person(user=cora, now=NOW)

    assert kinds() == ["roles-changed", "member-removed", "password-changed", "account-deleted"]


@pytest.mark.usefixtures("_vera")
def test_one_address_cannot_fill_the_log(cast: Cast) -> None:
    few = {"security-notes": {"address": "2/hour"}}
    with override_settings(LIMITS=settings.LIMITS | few):
        for _ in range(4):
            sign_in("vera@example.org", "wrong")

    assert len(kinds()) == 2


@pytest.mark.usefixtures("_vera")
def test_the_operator_reads_it(cast: Cast) -> None:
    sign_in("vera@example.org", "wrong")
    assert cast.vera.user
    actions.change_password(user=cast.vera.user, password="another", now=timezone.now())
    out = io.StringIO()

    call_command("security_log", kind="sign-in-failed", stdout=out)

    [line] = out.getvalue().splitlines()
    assert f"sign-in-failed   person={cast.vera.user.pk} address=127.0.0.1" in line


@pytest.mark.usefixtures("_vera")
def test_it_is_forgotten_in_time(cast: Cast) -> None:
    sign_in("vera@example.org", "wrong")

    assert actions.forget_security_events(before=timezone.now()) == 1
    assert kinds() == []
