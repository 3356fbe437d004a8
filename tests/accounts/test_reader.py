"""Whose words and whose clock a page uses."""

from datetime import UTC, datetime

from allauth.mfa.models import Authenticator
from django.test import Client
from django.utils import timezone, translation
from django.utils.timezone import get_current_timezone_name

from accounts import actions
from accounts.access import member_of, memberships_of
from accounts.models import Circle, Role
from tests.cast import Cast
from tests.test_access_matrix import just_asked


def test_a_circles_loader_settles_words_and_clock(cast: Cast) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(english="american", time_zone="America/Halifax")
    assert cast.vera.user
    with translation.override("en-gb"), timezone.override(None):
        member_of(cast.vera.user, cast.circle.pk)
        assert (translation.get_language(), get_current_timezone_name()) == (
            "en-us",
            "America/Halifax",
        )
    with translation.override("en-gb"), timezone.override(None):
        memberships_of(cast.vera.user)
        assert translation.get_language() == "en-us"
    assert get_current_timezone_name() == "UTC"


def test_a_circle_speaks_its_english_whatever_the_browser_asks_for(
    cast: Cast, client: Client
) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(english="american")
    invitation = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=1, now=timezone.now()
    )
    token = invitation.token
    answer = client.get(f"/join/{token}/", headers={"Accept-Language": "en-gb"})
    assert "mitered-square" in answer.content.decode()
    assert answer["Content-Language"] == "en-us"
    assert translation.get_language() == "en-gb"  # nothing is left for whoever comes next


def test_before_a_circle_is_known_the_browser_decides(client: Client) -> None:
    spoken = [
        client.get("/", headers={"Accept-Language": language}).content.decode()
        for language in ("en-us", "en-gb", "fi")
    ]
    assert ["mitered" in page for page in spoken] == [True, False, False]


def test_the_pages_about_ones_login_speak_as_ones_circle_does(cast: Cast, client: Client) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(english="american", time_zone="America/Halifax")
    assert cast.vera.user
    client.force_login(cast.vera.user)
    just_asked(client)
    late = datetime(2026, 11, 3, 1, tzinfo=UTC)
    passkey = Authenticator.objects.create(
        user=cast.vera.user, type=Authenticator.Type.WEBAUTHN, data={"name": "Telephone"}
    )
    Authenticator.objects.filter(pk=passkey.pk).update(created_at=late, last_used_at=late)
    page = client.get("/account/2fa/webauthn/", headers={"Accept-Language": "en-gb"})
    assert page["Content-Language"] == "en-us"
    assert page.content.decode().count("Nov. 2, 2026") == 2
