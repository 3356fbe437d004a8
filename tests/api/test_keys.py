"""Who is calling: keys and sessions."""

from datetime import timedelta

from django.utils import timezone
from pytest_django import DjangoAssertNumQueries, Settings
from rest_framework.test import APIClient

from accounts.actions import make_token, revoke_token
from accounts.models import ApiToken, User
from tests.accounts.test_second_step import set_up
from tests.cast import enter

from .conftest import Api, World


def test_without_signing_in_one_is_told_how(anybody: Api) -> None:
    answer = anybody.get("circles/")

    assert answer.status_code == 401
    assert answer["WWW-Authenticate"] == "Token"
    assert answer.json()["type"].endswith("/not-signed-in")


def test_a_revoked_key_opens_nothing(world: World) -> None:
    assert world.vera.get("circles/").status_code == 200

    revoke_token(token=ApiToken.objects.get(user=world.cast.vera.user), now=timezone.now())

    answer = world.vera.get("circles/")
    assert answer.status_code == 401
    assert answer.json()["type"].endswith("/bad-token")


def test_a_wrong_key_or_an_owner_who_may_not_sign_in_opens_nothing(world: World) -> None:
    for key in ("Token nonsense", "Token", "Token a b", "Token \xff"):
        client = APIClient()
        client.credentials(HTTP_AUTHORIZATION=key)
        assert client.get("/api/v1/circles/").json()["type"].endswith("/bad-token")
        # Nor does it plan: who shows a key wants to be known.
        body = {"columns": 1, "rows": 1, "stitches": 2}
        assert client.post("/api/v1/plan/", body).status_code == 401
    assert world.cast.vera.user
    world.cast.vera.user.is_active = False
    world.cast.vera.user.save(update_fields=["is_active"])
    assert world.vera.get("circles/").status_code == 401


def test_the_use_of_a_key_is_noted_once_a_minute(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    token = ApiToken.objects.get(user=world.cast.vera.user)
    world.vera.get("circles/")
    token.refresh_from_db()
    first = token.last_used_at
    with django_assert_num_queries(2):  # the key, the circles
        world.vera.get("circles/")
    token.refresh_from_db()
    assert token.last_used_at == first

    ApiToken.objects.update(last_used_at=timezone.now() - timedelta(seconds=61))
    world.vera.get("circles/")

    token.refresh_from_db()
    assert token.last_used_at
    assert first
    assert token.last_used_at > first

    ApiToken.objects.update(last_used_at=timezone.now() + timedelta(days=9))  # by a wrong clock
    world.vera.get("circles/")

    assert ApiToken.objects.filter(pk=token.pk, last_used_at__lte=timezone.now()).exists()


def test_a_session_reads_and_with_the_sites_token_also_acts(world: World) -> None:
    browser = APIClient(enforce_csrf_checks=True)
    assert world.cast.vera.user
    browser.force_login(world.cast.vera.user)
    path = f"/api/v1/{world.at('A1', 'claim')}"

    assert browser.get("/api/v1/circles/").json()["count"] == 1
    untrusted = browser.post(path)
    browser.get("/account/login/")
    browser.cookies["csrftoken"] = "x" * 32
    trusted = browser.post(path, headers={"X-CSRFToken": "x" * 32})

    assert untrusted.status_code == 403
    assert untrusted.json()["type"].endswith("/csrf-failed")
    assert trusted.status_code == 201


def with_key(user: User, **chosen: bool) -> APIClient:
    """A program with a new key of this user."""
    _token, key = make_token(user=user, name="program", now=timezone.now(), **chosen)
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {key}")
    return client


def test_a_key_that_may_only_read_reads_and_plans_and_changes_nothing(world: World) -> None:
    assert world.cast.vera.user
    program = with_key(world.cast.vera.user, read_only=True)
    path = f"/api/v1/{world.at('A1')}"

    assert program.get(path).json()["state"] == "ready"
    # Planning stores nothing, and is anybody's.
    assert (
        program.post("/api/v1/plan/", {"columns": 1, "rows": 1, "stitches": 2}).status_code == 200
    )
    answer = program.post(f"{path}claim/")

    assert answer.status_code == 403
    assert answer.json()["type"].endswith("/key-only-reads")
    assert program.get(path).json()["state"] == "ready"


def test_where_organisers_need_a_second_step_their_keys_need_it_too(
    world: World, settings: Settings
) -> None:
    organiser, volunteer = world.cast.olga.user, world.cast.vera.user
    assert organiser
    assert volunteer
    before, plain = with_key(organiser), with_key(volunteer)
    settings.SECOND_FACTOR = "organisers"

    refused = before.get("/api/v1/circles/")
    assert refused.status_code == 401
    assert "second step" in refused.json()["detail"]
    assert plain.get("/api/v1/circles/").status_code == 200

    # A second step of today says nothing of who made the key of yesterday.
    own, _secret = set_up(world.cast.olga)
    assert before.get("/api/v1/circles/").status_code == 401
    enter(own, organiser)
    own.post("/me/keys/new/", {"name": "new", "read_only": "yes", "days": "30"})
    token = ApiToken.objects.get(name="new")
    assert (token.read_only, token.second_step) == (True, True)
    assert with_key(organiser, second_step=True).get("/api/v1/circles/").status_code == 200
