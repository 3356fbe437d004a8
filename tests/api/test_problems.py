"""Every code of the catalogue: it can be met, it is told alike, and its page explains it."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.cache import cache
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import OperationalError, connection
from django.test import Client, override_settings
from django.utils import timezone
from rest_framework.test import APIClient

import drives.actions
from accounts.actions import remove_member
from accounts.models import ApiToken, Member
from drives.actions.circles.calendar import add_absence
from drives.actions.colours.plans import set_palette
from drives.api.errors import answer
from drives.api.problems import PROBLEM_KINDS
from drives.craft.colours.wish import Pattern
from drives.craft.fibre.fibres import Fibre
from drives.craft.layout.states import Obstacle
from drives.craft.yarn.weighing import Swatch
from drives.models import Blanket, Drive, Gift, Mode, Piece, Sheet, Status, Yarn
from drives.readings.colour_plans import ColoursWanted, PaletteColour
from shared.basics.refusals import Refused
from shared.settings import REST_FRAMEWORK
from tests.desk import DAY
from tests.store import new_yarn

from .conftest import World

PLAN = {"columns": 1, "rows": 1, "stitches": 2}


def claim(world: World, place: str, **headers: str) -> Any:
    return world.vera.post(world.at(place, "claim"), **headers)


def no_room(world: World) -> Any:
    body = {**PLAN, "drive": world.drive.pk, "name": "One too many", "gauge": 20}
    with override_settings(TOTALS={"blankets": 1}):
        return world.olga.post("blankets/", body)


def bad_token(world: World) -> Any:
    world.anybody.client.credentials(HTTP_AUTHORIZATION="Token x")
    return world.anybody.get("circles/")


def key_only_reads(world: World) -> Any:
    ApiToken.objects.update(read_only=True)
    return claim(world, "A1")


def csrf_failed(world: World) -> Any:
    browser = APIClient(enforce_csrf_checks=True)
    assert world.cast.vera.user
    browser.force_login(world.cast.vera.user)
    return browser.post(f"/api/v1/{world.at('A1', 'claim')}")


def already_finished(world: World) -> Any:
    world.finish("A1")
    return world.olga.post(world.at("A1", "claim"))


def already_taken(world: World) -> Any:
    claim(world, "A1")
    return world.olga.post(world.at("A1", "claim"))


def too_many_claims(world: World) -> Any:
    world.finish("A1", "B1", "A2")
    for place in ("C1", "B2"):
        claim(world, place)
    return claim(world, "A3")


def not_yours(world: World) -> Any:
    world.olga.post(world.at("A1", "claim"))
    return world.vera.post(world.at("A1", "give-back"))


def others_stand_on_it(world: World) -> Any:
    world.finish("A1", "B1")
    return world.olga.post(world.at("A1", "rip-back"))


def only_in_a_race(code: str) -> Callable[[World], Any]:
    """What another request must change between two looks, or pages alone ask; by the handler."""
    refused = Refused(code, "Somebody was quicker.")
    return lambda _world: answer(refused, {"view": None, "request": None})


def piece_elsewhere(world: World) -> Any:
    world.finish("A1")
    Piece.objects.update(holder=world.cast.vera)
    Drive.objects.update(mode=Mode.TRAVELLING)
    return world.olga.post(world.at("B1", "claim"))


def travel(world: World) -> bool:
    """Vera has the piece A1 of a drive that travels."""
    Drive.objects.update(mode=Mode.TRAVELLING)
    world.finish("A1")
    return True


def hand_over(world: World, to: Member) -> Any:
    """Vera promises the piece A1."""
    piece = Piece.objects.get()
    return world.vera.post(f"pieces/{piece.pk}/hand-overs/", {"receiver": to.pk})


def go_on(world: World, answer: Any, step: str) -> Any:
    return world.olga.post(f"hand-overs/{answer.json()['id']}/{step}/")


def piece_full(world: World) -> Any:
    Drive.objects.update(at_once=1)
    world.finish("A1")
    claim(world, "B1")
    return world.olga.post(world.at("A2", "claim"))


def piece_on_its_way(world: World) -> Any:
    travel(world)
    go_on(world, hand_over(world, world.cast.olga), "send")
    return claim(world, "B1")


def piece_in_work(world: World) -> Any:
    travel(world)
    claim(world, "B1")
    return go_on(world, hand_over(world, world.cast.olga), "send")


def piece_is_no_more(world: World) -> Any:
    travel(world)
    world.olga.post(f"pieces/{Piece.objects.get().pk}/lost/")
    return hand_over(world, world.cast.olga)


def hand_over_open(world: World) -> Any:
    travel(world)
    hand_over(world, world.cast.olga)
    return hand_over(world, world.cast.paul)


def hand_over_ended(world: World) -> Any:
    travel(world)
    promised = hand_over(world, world.cast.olga)
    go_on(world, promised, "cancel")
    return go_on(world, promised, "receive")


def no_travelling(world: World) -> Any:
    world.finish("A1")
    return hand_over(world, world.cast.olga)


def no_colour_plan(world: World) -> Any:
    set_palette(
        blanket=world.blanket,
        by=world.cast.olga,
        wanted=ColoursWanted(
            (PaletteColour("moss", "#6f7f3f"),), Pattern.FREE, apart=True, margin=0
        ),
        now=timezone.now(),
    )
    return world.cora.put(world.at("A1", "colour"), {"colour": "moss"})


def two_lots(world: World, **other: Any) -> list[Yarn]:
    """Of navy, each enough for five squares; the second may be ``other`` than the first."""
    known = {"category": 4, "fibres": {Fibre.WOOL: 100}, "swatch": Swatch(29, 29, 8)}
    told: list[dict[str, Any]] = [known, known | other]
    pair = zip("AB", told, strict=True)
    return [new_yarn(world.cast.cora, 45, dye_lot=lot, **facts) for lot, facts in pair]


def choose_lots(world: World, yarns: list[int]) -> Any:
    body = {"colour": "Navy", "yarns": yarns, "way": "never-side-by-side"}
    return world.cora.post(f"blankets/{world.blanket.pk}/yarn/lots/", body)


def no_lot_plan(world: World) -> Any:
    choose_lots(world, [yarn.pk for yarn in two_lots(world)])
    body = {"palette": [{"name": "Navy"}], "pattern": "free", "apart": False}
    return world.cora.put(f"blankets/{world.blanket.pk}/colours/", body)


def reserve(world: World, grams: int) -> Any:
    body = {"yarn": new_yarn(world.cast.cora).pk, "grams": grams}
    return world.cora.post(f"blankets/{world.blanket.pk}/yarn/reservations/", body)


def blanket_is_given(world: World) -> Any:
    Gift.objects.create(blanket=world.blanket, given_on=timezone.localdate())
    return reserve(world, 1)


def accept_rota(world: World, **told: Any) -> Any:
    """One line, of A1, or all of a rota that was made a moment ago; Paul is away."""
    if "member" in told:
        told |= {"place": "A1", "begin": told["begin"].isoformat()}
    today, by = timezone.localdate(), world.cast.cora
    add_absence(member=world.cast.paul, first=today, last=today, by=by, now=timezone.now())
    Sheet.objects.create(
        blanket=world.blanket, kind="rota", status=Status.DONE, requested_by=by,
        requested_at=timezone.now(), finished_at=timezone.now(), foretold={"assigned": []},
    )  # fmt: skip
    return world.cora.post(f"blankets/{world.blanket.pk}/rota/accept/", told)


def sheet_not_made(world: World) -> Any:
    sheet = world.olga.post(f"blankets/{world.blanket.pk}/sheets/", {"kind": "status"}).json()
    return world.olga.get(f"sheets/{sheet['id']}/file/")


def files_away(world: World) -> Any:
    """Where its file should be is something that cannot be read."""
    default_storage.save("sheets/other.pdf", ContentFile(b"x"))
    sheet = world.olga.post(f"blankets/{world.blanket.pk}/sheets/", {"kind": "status"}).json()
    Sheet.objects.update(status=Status.DONE, file="sheets", finished_at=timezone.now())
    return world.olga.get(f"sheets/{sheet['id']}/file/")


def too_large(world: World) -> Any:
    body = b'"' + b"x" * 3_000_000 + b'"'
    return world.vera.client.post("/api/v1/plan/", body, content_type="application/json")


def idempotency_key_reused(world: World) -> Any:
    claim(world, "A1", idempotency_key="k")
    return claim(world, "B1", idempotency_key="k")


def idempotency_key_spent(world: World) -> Any:
    claim(world, "A1", idempotency_key="k")
    remove_member(member=world.cast.vera, by=world.cast.olga, now=timezone.now())
    return claim(world, "A1", idempotency_key="k")


def too_many_requests(world: World) -> Any:
    rates = {"DEFAULT_THROTTLE_RATES": {"plan-anonymous": "0/min"}}
    cache.clear()
    with override_settings(REST_FRAMEWORK={**REST_FRAMEWORK, **rates}):
        return world.anybody.post("plan/", PLAN)


def internal_error(world: World) -> Any:
    """A row that no action would have written."""
    Blanket.objects.update(seams=[["A1"]])
    world.vera.client.raise_request_exception = False
    return world.vera.get(f"blankets/{world.blanket.pk}/")


def database_away(world: World) -> Any:
    def away(execute: Any, sql: str, *rest: Any) -> Any:
        if "drives_blanket" in sql:
            raise OperationalError("the connection was closed")
        return execute(sql, *rest)

    world.vera.client.raise_request_exception = False
    with connection.execute_wrapper(away):
        return world.vera.get(f"blankets/{world.blanket.pk}/")


WAYS: dict[str, Callable[[World], Any]] = {
    "bad-idempotency-key": lambda world: claim(world, "A1", idempotency_key="two words"),
    "not-signed-in": lambda world: world.anybody.get("drives/"),
    "bad-token": bad_token,
    "not-allowed": lambda world: world.cora.post(world.at("A1", "claim")),
    "key-only-reads": key_only_reads,
    "csrf-failed": csrf_failed,
    "not-found": lambda world: world.stan.get(world.at("A1")),
    "method-not-allowed": lambda world: world.vera.get(world.at("A1", "claim")),
    "not-acceptable": lambda world: world.vera.client.get(
        "/api/v1/drives/", headers={"accept": "text/html"}
    ),
    "not-ready": lambda world: claim(world, "B2"),
    "already-taken": already_taken,
    "already-finished": already_finished,
    "too-many-claims": too_many_claims,
    "not-yours": not_yours,
    "counted-elsewhere": only_in_a_race("counted-elsewhere"),
    "not-taken": lambda world: world.vera.post(world.at("A1", "finish")),
    "not-finished": lambda world: world.olga.post(world.at("A1", "rip-back")),
    "others-stand-on-it": others_stand_on_it,
    "member-has-left": only_in_a_race("member-has-left"),
    "piece-elsewhere": piece_elsewhere,
    "piece-full": piece_full,
    "piece-on-its-way": piece_on_its_way,
    "piece-in-work": piece_in_work,
    "piece-is-theirs": lambda world: travel(world) and hand_over(world, world.cast.vera),
    "piece-is-no-more": piece_is_no_more,
    "hand-over-open": hand_over_open,
    "hand-over-ended": hand_over_ended,
    "no-travelling": no_travelling,
    "no-colour-plan": no_colour_plan,
    "colour-plan-gave-up": only_in_a_race("colour-plan-gave-up"),
    "not-in-palette": lambda world: world.cora.put(world.at("A1", "colour"), {"colour": "moss"}),
    "colour-is-there": lambda world: (
        no_colour_plan(world)
        and world.cora.put(world.at("A1", "colour"), {"colour": "moss", "value": "#6f7f3f"})
    ),
    "lots-unlike": lambda world: choose_lots(
        world, [yarn.pk for yarn in two_lots(world, category=5)]
    ),
    "one-lot-alone": lambda world: choose_lots(world, []),
    "no-such-lot": lambda world: choose_lots(world, [1, 2]),
    "no-lot-plan": no_lot_plan,
    "blanket-is-given": blanket_is_given,
    "not-so-much-free": lambda world: reserve(world, 101),
    "not-so-much-yarn": lambda world: world.cora.post(
        f"yarns/{new_yarn(world.cast.cora).pk}/moves/", {"way": "knitted", "grams": 101}
    ),
    "no-conflict": lambda world: world.olga.post(
        f"drives/{world.drive.pk}/checks/uphold/", {"subject": "plan 1", "code": "too-small"}
    ),
    "no-room": no_room,
    "sheet-not-made": sheet_not_made,
    "forecast-not-made": lambda world: world.vera.get(f"blankets/{world.blanket.pk}/forecast/"),
    "rota-not-made": lambda world: world.vera.get(f"blankets/{world.blanket.pk}/rota/"),
    "rota-is-newer": lambda world: accept_rota(world, made_at="2026-11-01T00:00:00Z"),
    "not-a-knitter": lambda world: accept_rota(
        world, member=world.cast.cora.pk, begin=timezone.localdate()
    ),
    "day-is-over": lambda world: accept_rota(
        world, member=world.cast.vera.pk, begin=timezone.localdate() - DAY
    ),
    "member-is-away": lambda world: accept_rota(
        world, member=world.cast.paul.pk, begin=timezone.localdate()
    ),
    "panels-not-made": lambda world: world.olga.get(
        f"blankets/{world.blanket.pk}/panels/", volunteers=3
    ),
    "too-large": too_large,
    "unsupported-media-type": lambda world: world.vera.client.post(
        "/api/v1/plan/", b"a=b", content_type="application/x-www-form-urlencoded"
    ),
    "invalid-plan": lambda world: world.vera.post("plan/", {**PLAN, "rows": 0}),
    "invalid-input": lambda world: world.cora.post(world.at("A1", "extend"), {}),
    "idempotency-key-reused": idempotency_key_reused,
    "idempotency-key-spent": idempotency_key_spent,
    "too-many-requests": too_many_requests,
    "internal-error": internal_error,
    "database-away": database_away,
    "files-away": files_away,
}


FOR_PAGES_ALONE = {"squares-begun", "too-many-notes", "yarn-is-there"}


@pytest.mark.parametrize("code", PROBLEM_KINDS)
def test_every_problem_is_told_alike(world: World, code: str) -> None:
    told = WAYS[code](world)

    assert told["Content-Type"] == "application/problem+json"
    problem = json.loads(told.content)
    assert problem["type"] == f"/api/v1/problems/{code}"
    assert problem["status"] == told.status_code == PROBLEM_KINDS[code].status
    assert problem["title"] == str(PROBLEM_KINDS[code].title)
    assert problem["detail"].endswith(".")


@pytest.mark.parametrize("code", PROBLEM_KINDS)
def test_every_type_is_the_address_of_a_page(code: str) -> None:
    page = Client().get(f"/api/v1/problems/{code}")

    assert page.status_code == 200
    assert code in page.content.decode()


def test_the_page_of_all_problems_links_to_each() -> None:
    page = Client().get("/api/v1/problems/").content.decode()

    assert [code for code in PROBLEM_KINDS if f'href="/api/v1/problems/{code}"' not in page] == []
    assert Client().get("/api/v1/problems/unheard-of").status_code == 404


def test_no_action_refuses_with_a_code_that_is_not_in_the_catalogue() -> None:
    """A new code belongs there, or here if no call of the API can meet it."""
    refused = re.compile(r'Refus(?:ed|al)\(\s*"([a-z-]+)"')
    codes = {
        code
        for file in Path(drives.actions.__path__[0]).rglob("*.py")
        for code in refused.findall(file.read_text())
    }

    assert len(codes) > 5
    assert (
        codes | {obstacle.value for obstacle in Obstacle} <= PROBLEM_KINDS.keys() | FOR_PAGES_ALONE
    )


def test_the_methods_of_an_address_are_named(world: World) -> None:
    refused = world.vera.client.put("/api/v1/blankets/")
    asked = world.vera.client.options("/api/v1/blankets/")

    assert (refused.status_code, asked.status_code) == (405, 200)
    assert refused["Allow"] == asked["Allow"] == "GET, POST, HEAD, OPTIONS"
    assert asked.json() == {"described_at": "/api/v1/docs/"}


@pytest.mark.parametrize("path", ["nowhere/", "circles", "blankets/x/", "plan"])
@pytest.mark.parametrize("method", ["get", "post", "delete"])
def test_an_unknown_address_is_a_problem_too(path: str, method: str) -> None:
    told = getattr(Client(), method)(f"/api/v1/{path}")

    assert told.status_code == 404
    assert told["Content-Type"] == "application/problem+json"
