"""What goes against a receiver's rules, told, overruled and upheld."""

from typing import Any

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.models import Event
from drives.actions.drives.rules import note_rules
from drives.craft.fibre.fibres import Fibre
from drives.craft.layout.layout import Layout
from drives.craft.receivers.rules import Rules
from drives.models import Overruling, Yarn
from tests.store import new_yarn

from .conftest import World


@pytest.fixture
def strict(world: World) -> World:
    """They take nothing narrower than 50 cm and no wool; the blanket is 30 cm wide."""
    rules = Rules(shorter_from=50, refused=frozenset({Fibre.WOOL}))
    note_rules(drive=world.drive, by=world.cast.olga, now=timezone.now(), rules=rules)
    new_yarn(world.cast.cora, fibres={Fibre.WOOL: 100})
    return world


def narrow(world: World) -> dict[str, str]:
    return {"subject": f"plan {world.blanket.pk}", "code": "too-small", "about": "shorter"}


def of_drive(world: World, **asked: Any) -> Any:
    return world.vera.get(f"drives/{world.drive.pk}/checks/", **asked).json()["results"]


def act(world: World, what: str, **more: str) -> Any:
    return world.olga.post(f"drives/{world.drive.pk}/checks/{what}/", narrow(world) | more)


def test_a_drive_tells_its_plans_and_the_whole_store(strict: World) -> None:
    yarn = Yarn.objects.get()

    plan, wool = of_drive(strict)

    assert narrow(strict).items() <= plan.items()
    assert (plan["title"], plan["overruled"]) == ("Waves", "")
    assert "20 cm" in plan["detail"]
    assert (wool["subject"], wool["code"], wool["about"]) == (
        f"yarn {yarn.pk}",
        "fibre-refused",
        "wool",
    )
    assert all(check["detail"] and check["mend"] for check in (plan, wool))
    assert of_drive(strict, subject=f"yarn {yarn.pk}") == [wool]


def test_a_blanket_tells_only_the_yarns_that_it_names(strict: World) -> None:
    path = f"blankets/{strict.blanket.pk}/"
    before = strict.vera.get(f"{path}checks/").json()
    strict.blanket.squares.update(colour="Navy")
    after = strict.vera.get(f"{path}checks/").json()

    assert [check["code"] for check in before["results"]] == ["too-small"]
    assert [check["code"] for check in after["results"]] == ["too-small", "fibre-refused"]
    assert strict.vera.get(path).json()["conflicts"] == after["results"]


def test_a_yarn_tells_each_drive_that_refuses_it(strict: World) -> None:
    told = strict.vera.get(f"yarns/{Yarn.objects.get().pk}/checks/").json()

    assert [(check["drive"], check["drive_name"], check["code"]) for check in told["results"]] == [
        (strict.drive.pk, "Winter", "fibre-refused")
    ]


def test_a_conflict_is_overruled_with_a_reason_and_upheld(strict: World) -> None:
    first = act(strict, "overrule", reason="They take it.")
    second = act(strict, "overrule", reason="Never mind.")

    assert first.json()["overruled"] == second.json()["overruled"] == "They take it."
    assert [check["code"] for check in of_drive(strict)] == ["fibre-refused", "too-small"]
    assert of_drive(strict)[1] == first.json()

    for _time in range(2):
        assert act(strict, "uphold").json()["overruled"] == ""
    assert not Overruling.objects.exists()
    verbs = Event.objects.filter(verb__in=["overruled", "upheld"]).order_by("pk")
    assert list(verbs.values_list("verb", flat=True)) == ["overruled", "upheld"]


def test_a_plan_of_colours_tells_them_too(strict: World) -> None:
    body = {"palette": [{"name": "Navy"}], "pattern": "free", "apart": False}

    seen = strict.cora.post(f"blankets/{strict.blanket.pk}/colours/propose/", body).json()

    assert [check["code"] for check in seen["conflicts"]] == ["fibre-refused"]


def test_what_is_no_conflict_is_neither_overruled_nor_upheld(strict: World) -> None:
    for what, more in (("overrule", {"reason": "So."}), ("uphold", {})):
        answer = act(strict, what, code="too-large", **more)
        assert (answer.status_code, answer.json()["type"][-12:]) == (409, "/no-conflict")
    unsaid = act(strict, "overrule", reason=" ")
    assert [error["field"] for error in unsaid.json()["errors"]] == ["reason"]


def test_without_rules_nothing_conflicts(world: World) -> None:
    new_yarn(world.cast.cora)

    assert of_drive(world) == []
    assert world.vera.get(f"yarns/{Yarn.objects.get().pk}/checks/").json()["count"] == 0


def test_more_yarns_take_no_more_queries(
    strict: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    yarn = Yarn.objects.get()
    # From here on the key counts as lately used, and the plan is thought through.
    strict.vera.get(f"blankets/{strict.blanket.pk}/checks/")
    for lot in range(2):
        strict.plan(Layout(2, 2, 20), f"{lot}")
        with django_assert_num_queries(5):
            strict.vera.get(f"yarns/{yarn.pk}/checks/")
        with django_assert_num_queries(6):
            strict.vera.get(f"blankets/{strict.blanket.pk}/checks/")
        new_yarn(strict.cast.cora, dye_lot=f"{lot}", fibres={Fibre.WOOL: 100})


def test_a_layout_is_held_against_the_rules_before_it_is_planned(strict: World) -> None:
    path = f"drives/{strict.drive.pk}/checks/plan/"
    layout = {"columns": 4, "rows": 6, "stitches": 20, "gauge": 20}

    narrow, wide = (
        strict.vera.post(path, layout | {"border": border}).json()["results"] for border in (9, 10)
    )
    holed = strict.vera.post(path, layout | {"missing": ["D9"]})

    assert [(check["subject"], check["code"]) for check in narrow] == [("plan", "too-small")]
    assert "it is 1 cm short" in narrow[0]["detail"]
    assert wide == []
    assert holed.json()["type"].endswith("/invalid-plan")
    assert strict.drive.blankets.count() == 1
