"""The OpenAPI schema, and the page that shows it."""

import ast
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client
from playwright.sync_api import Page, expect

from drives.api.problems import PROBLEM_KINDS

ROOT = Path(__file__).parent.parent.parent
STATELESS = {
    "/api/v1/plan/",
    "/api/v1/plan/needs/",
    "/api/v1/plan/panels/",
    "/api/v1/plan/rows/",
    "/api/v1/plan/sizes/",
}
OPEN = STATELESS | {"/api/v1/plan/typical-sizes/"}


@pytest.fixture
def schema() -> Any:
    accept = "application/vnd.oai.openapi+json"
    return Client().get("/api/v1/schema/", headers={"accept": accept}).json()


def test_the_schema_is_valid_and_without_warnings() -> None:
    call_command("spectacular", "--validate", "--fail-on-warn", "--file", "/dev/null")


def test_every_call_tells_its_problems(schema: Any) -> None:
    for path, calls in schema["paths"].items():
        for method, call in calls.items():
            assert {"401", "403", "406", "429"} <= call["responses"].keys(), path
            if method == "post":
                assert {"413", "415", "422"} <= call["responses"].keys(), path
    problems = schema["components"]["responses"]
    for code, kind in PROBLEM_KINDS.items():
        if kind.status != 500 and kind.status != 405:
            assert code in problems[f"Problem{kind.status}"]["description"]


def members_of_refusals() -> set[str]:
    """The facts that a Refused anywhere in the code carries, by name."""
    return {
        fact.arg
        for room in ("accounts", "drives", "shared")
        for file in (ROOT / room).rglob("*.py")
        for call in ast.walk(ast.parse(file.read_text()))
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in ("Refused", "NotedRefusal")
        for fact in call.keywords
        if fact.arg
    }


def test_every_member_of_a_problem_is_told(schema: Any) -> None:
    facts = members_of_refusals()

    assert {"waiting_for", "reasons", "grams"} <= facts
    assert facts - schema["components"]["schemas"]["Problem"]["properties"].keys() == set()


def test_every_call_that_acts_takes_an_idempotency_key(schema: Any) -> None:
    without = {
        path
        for path, calls in schema["paths"].items()
        for call in [calls.get("post")]
        if call and "Idempotency-Key" not in [each["name"] for each in call.get("parameters", [])]
    }

    assert without == STATELESS


def test_keys_and_sessions_open_every_call_and_planning_needs_none(schema: Any) -> None:
    schemes = schema["components"]["securitySchemes"]
    assert {name: scheme["in"] for name, scheme in schemes.items()} == {
        "key": "header",
        "session": "cookie",
    }
    for path, calls in schema["paths"].items():
        for call in calls.values():
            assert ({} in call["security"]) is (path in OPEN)
            assert {"key": []} in call["security"]


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
def test_the_documentation_is_rendered_under_the_content_policy(page: Page) -> None:
    page.goto("/api/v1/docs/")

    expect(page.get_by_role("heading", name="Mitrewise")).to_be_visible()
    claim = page.locator("[data-path='/api/v1/blankets/{blanket_id}/squares/{place}/claim/']")
    expect(claim.first).to_be_visible()
    claim.first.click()
    expect(page.get_by_text("Again for the same member nothing changes")).to_be_visible()
