"""``POST /plan/`` with what cannot be planned: always 422, always saying which field."""

from typing import Any

import pytest

from .conftest import Api

GRID = {"columns": 3, "rows": 3, "stitches": 20}

WRONG: dict[str, tuple[dict[str, Any], set[str]]] = {
    "nothing given": ({"columns": None, "rows": None, "stitches": None}, {*GRID}),
    "a number as text": ({"columns": "3"}, {"columns"}),
    "a fraction": ({"rows": 2.5}, {"rows"}),
    "true for a number": ({"stitches": True}, {"stitches"}),
    "no column": ({"columns": 0}, {"columns"}),
    "too many rows": ({"rows": 151}, {"rows"}),
    "one stitch": ({"stitches": 1}, {"stitches"}),
    "a number beyond all machines": ({"stitches": 10**400}, {"stitches"}),
    "several at once": ({"columns": 0, "mitre": "round", "hand": []}, {"columns", "mitre", "hand"}),
    "trade as text": ({"corner_trade": "yes"}, {"corner_trade"}),
    "missing is no list": ({"missing": "A1"}, {"missing"}),
    "no name of a place": ({"missing": ["1A"]}, {"missing"}),
    "a place as a number": ({"missing": [7]}, {"missing"}),
    "a place outside": ({"missing": ["D1"]}, {"missing"}),
    "a place twice": ({"missing": ["A1", "a1"]}, {"missing"}),
    "all places": ({"missing": [f"{c}{r}" for c in "ABC" for r in (1, 2, 3)]}, {"missing"}),
    "a large square as text": ({"large": ["A1"]}, {"large"}),
    "a large square without a size": ({"large": [{"at": "A1"}]}, {"large"}),
    "a size as text": ({"large": [{"at": "A1", "size": "2"}]}, {"large"}),
    "a size too large": ({"large": [{"at": "A1", "size": 11}]}, {"large"}),
    "a negative size": ({"large": [{"at": "A1", "size": -1}]}, {"large"}),
    "a large square reaching outside": ({"large": [{"at": "C3", "size": 2}]}, {"large"}),
    "large squares that overlap": (
        {"large": [{"at": "A1", "size": 2}, {"at": "B2", "size": 2}]},
        {"large"},
    ),
    "one corner twice": ({"large": [{"at": "A1", "size": 2}, {"at": "A1", "size": 3}]}, {"large"}),
    "missing inside large": ({"missing": ["B2"], "large": [{"at": "A1", "size": 2}]}, {"large"}),
    "a seam of one place": ({"seams": [["A1"]]}, {"seams"}),
    "a seam of numbers": ({"seams": [[1, 2]]}, {"seams"}),
    "a seam between no neighbours": ({"seams": [["A1", "C1"]]}, {"seams"}),
    "a seam round a corner": ({"seams": [["A1", "B2"]]}, {"seams"}),
    "a seam with itself": ({"seams": [["A1", "A1"]]}, {"seams"}),
    "a seam outside": ({"seams": [["C1", "D1"]]}, {"seams"}),
    "a seam twice": ({"seams": [["A1", "B1"], ["B1", "A1"]]}, {"seams"}),
    "a seam inside one square": (
        {"seams": [["A1", "A2"]], "large": [{"at": "A1", "size": 2}]},
        {"seams"},
    ),
    "a field that is not there": ({"color": "red"}, {"color"}),
}


@pytest.mark.parametrize("case", WRONG)
def test_the_wrong_field_is_named_with_a_sentence(anybody: Api, case: str) -> None:
    change, fields = WRONG[case]

    answer = anybody.post("plan/", {**GRID, **change})

    problem = answer.json()
    assert (answer.status_code, problem["status"]) == (422, 422)
    assert answer["Content-Type"] == "application/problem+json"
    assert problem["type"].endswith("/invalid-plan")
    assert {error["field"] for error in problem["errors"]} == fields
    assert all(error["detail"].endswith((".", ";")) for error in problem["errors"])


@pytest.mark.parametrize(
    "body",
    [b"{", b"[]", b"3", b"null", b'"x"', b'{"columns": NaN}', b"\xff", b"[" * 100_000, b" "],
    ids=lambda body: repr(body[:16]),
)
def test_what_is_no_json_object_is_refused(anybody: Api, body: bytes) -> None:
    answer = anybody.client.post("/api/v1/plan/", body, content_type="application/json")

    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == ["body"]


def test_half_a_character_is_no_name(anybody: Api) -> None:
    """JSON can hold a lone surrogate, which UTF-8 cannot."""
    body = rb'{"columns": 3, "rows": 3, "stitches": 20, "missing": ["\ud800"], "\udfff": 1}'

    answer = anybody.client.post("/api/v1/plan/", body, content_type="application/json")

    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} == {"missing", "\udfff"}


def test_a_body_larger_than_any_plan_is_not_read(anybody: Api) -> None:
    body = b'{"columns": 3, "x": "' + b"x" * 3_000_000 + b'"}'

    answer = anybody.client.post("/api/v1/plan/", body, content_type="application/json")

    assert answer.status_code == 413
    assert answer.json()["type"].endswith("/too-large")


def test_many_mistakes_are_told_up_to_a_hundred(anybody: Api) -> None:
    answer = anybody.post("plan/", {**GRID, "missing": [f"D{row}" for row in range(1, 150)]})

    assert len(answer.json()["errors"]) == 100


def test_lists_longer_than_any_blanket_are_not_looked_through(anybody: Api) -> None:
    crowd = [{"at": f"{c}{row}", "size": 10} for c in "ABC" for row in range(1, 151)]

    together = anybody.post("plan/", {**GRID, "large": crowd}).json()
    long = anybody.post("plan/", {**GRID, "missing": ["A1"] * 22_501}).json()

    assert "do not fit" in together["detail"]
    assert "longer" in long["detail"]
