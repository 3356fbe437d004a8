"""Everything that is kept of a person, or of a circle, as one file."""

import io
import json
from typing import Any
from zipfile import ZipFile

import pytest
from django.apps import apps
from django.test import Client
from django.utils import timezone

from accounts import actions
from accounts.belongings import about_person, of_circle
from accounts.models import Circle, Member, Role
from drives.exports.told import write_circle, write_person
from tests.matrix.world import World, make_world

pytestmark = pytest.mark.django_db

Tables = dict[str, list[dict[str, Any]]]


@pytest.fixture
def world() -> World:
    return make_world()


def of(member: Member) -> Tables:
    assert member.user
    file = io.BytesIO()
    write_person(member.user, file)
    return read(file)


def read(file: io.BytesIO) -> Tables:
    with ZipFile(file) as along:
        return {
            name.removesuffix(".json"): json.loads(along.read(name)) for name in along.namelist()
        }


def test_a_person_takes_along_all_rows_that_name_them(world: World) -> None:
    vera = world.cast.vera
    told = of(vera)
    assert [row["email"] for row in told["accounts.user"]] == ["vera@example.org"]
    assert [row["circle"]["called"] for row in told["accounts.member"]] == ["Harbour Lane"]
    claims = set(vera.claims.values_list("pk", flat=True))
    assert {row["id"] for row in told["drives.claim"]} == claims
    assert {row["square"]["called"] for row in told["drives.claim"]} == {"A1", "B1"}
    assert told["drives.handover"]
    assert told["drives.holding"][0]["grams"] == 30
    for event in told["accounts.event"]:
        by = event["by"]["id"] if event["by"] else None
        assert vera.pk in (by, event["facts"].get("member"), event["facts"].get("to"))


def test_it_opens_no_door(world: World) -> None:
    olga = world.cast.olga
    told = of(olga)
    assert told["accounts.apitoken"][0]["name"] == "spreadsheet"
    written = json.dumps(told)
    assert olga.user
    for secret in (olga.user.password, *olga.user.api_tokens.values_list("digest", flat=True)):
        assert secret not in written


def test_what_others_confided_is_theirs(world: World) -> None:
    cast = world.cast
    actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=3, now=timezone.now(), email="new@example.org"
    )
    world.hand_over.giver_contact, world.hand_over.receiver_contact = "0999 1", "0999 2"
    world.hand_over.save(update_fields=["giver_contact", "receiver_contact"])
    written = json.dumps(of(cast.olga))
    assert "new@example.org" not in written
    assert "0999 1" not in written
    assert "0999 2" in written
    assert "vera@example.org" not in written


def test_a_circle_takes_along_every_table_that_is_not_a_persons_own(world: World) -> None:
    circle = world.cast.circle
    file = io.BytesIO()
    write_circle(circle, file)
    told = read(file)
    ours = {
        table._meta.label_lower
        for table in apps.get_models(include_auto_created=True)
        if table._meta.app_label in ("accounts", "drives")
    }
    assert ours - told.keys() == {
        "accounts.user",
        "accounts.apitoken",
        "accounts.idempotentcall",
        "accounts.securityevent",
        "accounts.session",
    }
    assert [row["name"] for row in told["accounts.circle"]] == ["Harbour Lane"]
    assert len(told["drives.square"]) == 5
    assert len(told["drives.findernote"]) == 1


def test_nothing_of_another_circle_comes_along(world: World) -> None:
    stan = world.cast.stan
    elsewhere = Circle.objects.get(name="Elsewhere")
    file = io.BytesIO()
    write_circle(elsewhere, file)
    told = read(file)
    assert [row["user"] for row in told["accounts.member"]] == [stan.pk]
    assert told["drives.square"] == []
    assert "drives.square" in {table._meta.label_lower for table in of_circle(elsewhere)}
    assert "account.emailaddress" in {table._meta.label_lower for table in about_person(stan)}


def test_a_press_hands_the_file_out(world: World, client: Client) -> None:
    vera = world.cast.vera
    assert vera.user
    client.force_login(vera.user)
    assert "Take my data along" in client.get("/me/data/").content.decode()
    answer = client.post("/me/data/")
    assert answer.headers["Content-Type"] == "application/zip"
    assert "no-store" in answer.headers["Cache-Control"]
    assert "drives.claim" in read(io.BytesIO(answer.getvalue()))
