"""One circle with a blanket of 3 × 3, and whoever calls the API."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from accounts.actions import make_token
from accounts.models import Member, User
from drives.actions.drives.blankets import plan_blanket
from drives.actions.drives.drives import make_drive
from drives.craft.layout.layout import Layout
from drives.models import Blanket, Drive
from tests.cast import Cast, make_cast


class Api:
    """The API as one person calls it with a key; without a person, as anybody does."""

    def __init__(self, user: User | None) -> None:
        self.client = APIClient()
        if user:
            _token, self.key = make_token(user=user, name="tests", now=timezone.now())
            self.client.credentials(HTTP_AUTHORIZATION=f"Token {self.key}")

    def get(self, path: str, **params: Any) -> Any:
        return self.client.get(f"/api/v1/{path}", params)

    def post(self, path: str, body: Any = None, **headers: str) -> Any:
        """Header names with underscores: ``idempotency_key``."""
        names = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.client.post(f"/api/v1/{path}", body, headers=names)

    def put(self, path: str, body: Any) -> Any:
        return self.client.put(f"/api/v1/{path}", body)


@dataclass(frozen=True)
class World:
    """The cast, a drive and a blanket of theirs, and the API as each of them calls it."""

    cast: Cast
    drive: Drive
    blanket: Blanket
    olga: Api
    cora: Api
    vera: Api
    stan: Api
    anybody: Api

    def at(self, place: str, call: str = "") -> str:
        """The path of a square, or of a call on it."""
        return f"blankets/{self.blanket.pk}/squares/{place}/{call and call + '/'}"

    def plan(self, layout: Layout, name: str = "Another") -> Blanket:
        """One more blanket of the drive."""
        return new_blanket(self.drive, self.cast.olga, layout, name)

    def finish(self, *places: str) -> None:
        """Vera works these squares, in this order."""
        for place in places:
            assert self.vera.post(self.at(place, "claim")).status_code == 201
            assert self.vera.post(self.at(place, "finish")).status_code == 200


def new_blanket(drive: Drive, by: Member, layout: Layout, name: str) -> Blanket:
    return plan_blanket(
        drive=drive, by=by, name=name, gauge=Decimal(20), layout=layout, now=timezone.now()
    )


@pytest.fixture
def anybody() -> Api:
    return Api(None)


@pytest.fixture
def world(db: None) -> World:
    return make_world()


def make_world() -> World:
    now = timezone.now()
    cast = make_cast(now)
    drive = make_drive(
        circle=cast.circle,
        by=cast.olga,
        now=now,
        name="Winter",
        purpose="",
        recipient="The ward on the hill",
        for_babies=False,
        deadline=None,
        mode="together",
        claim_limit=2,
        claim_days=14,
        grace_days=7,
    )
    return World(
        cast=cast,
        drive=drive,
        blanket=new_blanket(drive, cast.olga, Layout(3, 3, 20), "Waves"),
        olga=Api(cast.olga.user),
        cora=Api(cast.cora.user),
        vera=Api(cast.vera.user),
        stan=Api(cast.stan),
        anybody=Api(None),
    )
