"""``POST /plan/rows/``: every row of one square."""

from typing import Any

import pytest

from .conftest import Api


@pytest.mark.parametrize("n", [2, 20, 200, 2000])
@pytest.mark.parametrize("mitre", ["paired", "centred"])
def test_every_row_and_the_stitches_worked(anybody: Api, n: int, mitre: str) -> None:
    """TRADE.md, section 2, and the closed forms of the contract."""
    answer = anybody.post("plan/rows/", {"stitches": n, "mitre": mitre}).json()

    rows = answer["rows"]
    foundation = 2 * n if mitre == "paired" else 2 * n + 1
    assert [row["row"] for row in rows] == list(range(1, 2 * n + 1))
    assert [row["side"] for row in rows] == ["WS", "RS"] * n
    assert (rows[0]["stitches"], rows[-1]["stitches"]) == (foundation, 1)
    assert "fasten off" in rows[-1]["instruction"]
    assert answer["worked"] == foundation + sum(row["stitches"] for row in rows)
    paired, centred = 2 * n * n + 2 * n + 1, 2 * n * n + 4 * n + 1
    assert answer["worked"] == (paired if mitre == "paired" else centred)


def test_the_mitre_is_paired_unless_told(anybody: Api) -> None:
    rows = anybody.post("plan/rows/", {"stitches": 20}).json()

    assert rows["worked"] == 841


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({}, "stitches"),
        ({"stitches": 1}, "stitches"),
        ({"stitches": 2001}, "stitches"),
        ({"stitches": "20"}, "stitches"),
        ({"stitches": 20, "mitre": "both"}, "mitre"),
        ({"stitches": 20, "columns": 2}, "columns"),
    ],
)
def test_what_is_wrong_is_named(anybody: Api, body: dict[str, Any], field: str) -> None:
    answer = anybody.post("plan/rows/", body)

    assert answer.status_code == 422
    assert answer.json()["type"].endswith("/invalid-plan")
    assert [error["field"] for error in answer.json()["errors"]] == [field]
