"""The rules of a drive's receiver, read and written down."""

from dataclasses import fields
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.models import Event
from drives.api import examples
from drives.api.shapes.rules import RulesOnlyBody, RulesTold
from drives.craft.receivers.rules import Rules
from drives.models import Receiver

from .conftest import World

WARD: dict[str, Any] = examples.RULES[0].value


def path(world: World) -> str:
    return f"drives/{world.drive.pk}/rules/"


def test_every_rule_of_the_core_is_taken_and_told() -> None:
    rules = [field.name for field in fields(Rules)]

    assert list(RulesTold.__annotations__) == rules
    assert list(RulesOnlyBody().fields) == rules


def test_before_anything_is_told_nothing_is(world: World) -> None:
    told = world.vera.get(path(world)).json()

    assert set(told["rules"].values()) == {None}
    assert (told["recipient"], told["confirmed"]) == ("The ward on the hill", False)
    assert all(each["detail"] and each["source"] for each in told["cautions"])


def test_what_is_written_down_is_read_and_can_be_sent_back(world: World) -> None:
    done = world.olga.put(path(world), WARD)
    told = world.vera.get(path(world)).json()

    assert done.json() == told
    asked = {**WARD["rules"], "refused": ["mohair", "wool"]}
    assert {name: value for name, value in told["rules"].items() if value is not None} == asked
    assert (told["told_by"], told["told_on"], told["confirmed"]) == (
        "The matron",
        "2026-11-01",
        True,
    )
    assert (told["country"], told["kind"]) == ("GB", "")

    body = {name: told[name] for name in ("rules", "kind", "country", "told_by", "told_on")}
    assert world.olga.put(path(world), body).json() == told
    assert Event.objects.filter(verb="rules-noted").count() == 1

    less = world.olga.put(path(world), {"rules": {"fringe": False}}).json()
    assert (less["rules"]["fringe"], less["rules"]["temperature"]) == (False, None)
    assert (less["told_by"], less["confirmed"], less["country"]) == ("", False, "")


def test_what_is_told_is_what_blankets_are_held_against(world: World) -> None:
    world.olga.put(path(world), WARD)

    checks = world.vera.get(f"blankets/{world.blanket.pk}/checks/").json()["results"]

    assert [(check["code"], check["about"]) for check in checks] == [("too-small", "shorter")]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"rules": {"temperature": 96}}, "rules.temperature"),
        ({"rules": {"shorter_from": 0}}, "rules.shorter_from"),
        ({"rules": {"refused": ["moss"]}}, "rules.refused"),
        ({"rules": {"holes": "no"}}, "rules.holes"),
        ({"rules": {"colour": "red"}}, "rules.colour"),
        ({"rules": {"shorter_from": 90, "shorter_to": 80}}, "rules"),
        ({"rules": {"wanted": ["wool"], "animal": False}}, "rules"),
        ({"rules": None}, "rules"),
        ({"country": "XX"}, "country"),
        ({"kind": "hotel"}, "kind"),
        ({"told_by": ""}, "told_by"),
        ({"told_on": None}, "told_on"),
        ({"told_on": f"{timezone.localdate() + timedelta(2)}"}, "told_on"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(
    world: World, change: dict[str, Any], field: str
) -> None:
    answer = world.olga.put(path(world), WARD | change)

    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == [field]
    assert not Receiver.objects.exists()


def test_others_only_read(world: World) -> None:
    assert world.cora.put(path(world), WARD).status_code == 403
    assert world.stan.get(path(world)).status_code == 404


def test_reading_takes_few_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    world.olga.put(path(world), WARD)
    world.vera.get("circles/")  # from here on the key counts as lately used
    with django_assert_num_queries(3):  # key, drive with its receiver, membership
        world.vera.get(path(world))
