"""The OpenAPI schema fuzzed by schemathesis: what the API answers is what the schema says."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from zlib import crc32

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, transaction
from django.utils import timezone
from hypothesis import HealthCheck, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from drives.actions.drives.rules import note_rules
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.models import Drive, HandOver, Mode, Piece, Sheet, Yarn
from shared.wsgi import application
from tests.store import new_yarn

from .conftest import World

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
FEW = settings(
    max_examples=4,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture,  # every call is rolled back: one world for all
        HealthCheck.filter_too_much,
        HealthCheck.too_slow,
    ],
)
PLACES = ["A1", "B1", "A2", "B2"]  # finished, taken, ready, waiting
LARGE_ENOUGH = 12
NAVY = {"palette": [{"name": "Navy"}, {"name": "rust", "own": True}], "pattern": "free"}
PLAIN = {"Accept-Encoding": "identity"}  # the answers reach the checks as they are sent

Case = schemathesis.Case[Any]
schema = schemathesis.openapi.from_wsgi("/api/v1/schema/", application)


@contextmanager
def one_connection() -> Iterator[None]:
    """Requests that come from outside would close the connection, and the test's transaction."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    try:
        yield
    finally:
        for signal in (request_started, request_finished):
            signal.connect(close_old_connections)


@pytest.mark.django_db
@schema.include(path_regex="/plan/").parametrize()
@FEW
def test_anybody_plans(case: Case) -> None:
    keep_small(case)
    with one_connection():
        case.call_and_validate(checks=CHECKS, headers=PLAIN)


@pytest.fixture
def begun(world: World) -> World:
    """Squares in every state, a sheet asked for, a piece that is to travel, and some yarn."""
    new_yarn(world.cast.cora, fibres={Fibre.WOOL: 100})
    world.finish("A1")
    world.olga.post(world.at("B1", "claim"))
    world.olga.post(f"blankets/{world.blanket.pk}/sheets/", {"kind": "status"})
    Drive.objects.update(mode=Mode.TRAVELLING)
    olga = world.cast.olga
    note_rules(drive=world.drive, by=olga, now=timezone.now(), rules=Rules(shorter_from=50))
    world.olga.put(f"blankets/{world.blanket.pk}/palette/", NAVY)
    world.olga.post(world.at("A1", "measure"), {"width": 10, "height": 10})
    to_paul = {"receiver": world.cast.paul.pk}
    world.olga.post(f"pieces/{Piece.objects.get().pk}/hand-overs/", to_paul)
    return world


@schema.exclude(path_regex="/plan/").parametrize()
@FEW
def test_a_member_calls(case: Case, begun: World) -> None:
    keep_small(case)
    aim(case, begun)
    with one_connection(), transaction.atomic():
        key = {"Authorization": f"Token {begun.olga.key}"}
        case.call_and_validate(checks=CHECKS, headers=PLAIN | key)
        transaction.set_rollback(True)


def keep_small(case: Case) -> None:
    """The largest blankets take long, and are planned in other tests."""
    if isinstance(case.body, dict):
        for name in case.body.keys() & {"columns", "rows"}:
            if case.body[name] in range(LARGE_ENOUGH, 151):
                case.body[name] = LARGE_ENOUGH


def aim(case: Case, world: World) -> None:
    """Four calls of five go to rows that are there; chance alone would hardly meet one."""
    chance = crc32(repr((case.path_parameters, case.query, case.body)).encode())
    there = {
        "blanket_id": world.blanket.pk,
        "drive_id": world.drive.pk,
        "circle_id": world.cast.circle.pk,
        "sheet_id": Sheet.objects.get().pk,
        "piece_id": Piece.objects.get().pk,
        "yarn_id": Yarn.objects.get().pk,
        "hand_over_id": HandOver.objects.get().pk,
        "place": PLACES[chance % len(PLACES)],
    }
    if chance % 5:
        for name in case.path_parameters.keys() & there.keys():
            case.path_parameters[name] = there[name]
    if isinstance(case.body, dict):
        known: dict[str, Any] = {
            "drive": world.drive.pk,
            "receiver": world.cast.paul.pk,
            "palette": NAVY["palette"],
            "subject": f"plan {world.blanket.pk}",
            "code": "too-small",
            "about": "shorter",
        }
        case.body |= {name: known[name] for name in case.body.keys() & known.keys()}
