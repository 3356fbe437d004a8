"""``POST /plan/``: the contract, word for word, and every kind of layout."""

from typing import Any

from .conftest import Api

TWO_BY_TWO = {"columns": 2, "rows": 2, "stitches": 20, "mitre": "paired", "hand": "right"}


def squares(answer: Any) -> dict[str, Any]:
    assert answer.status_code == 200, answer.content
    return {square["place"]: square for square in answer.json()["squares"]}


def test_the_answer_is_the_contracts(anybody: Api) -> None:
    answer = anybody.post("plan/", TWO_BY_TWO).json()

    assert list(answer) == ["squares", "rounds", "widest_round", "pieces"]
    assert (answer["rounds"], answer["widest_round"], answer["pieces"]) == (3, 2, 1)
    assert answer["squares"][-1] == {
        "place": "B2",
        "column": 2,
        "row": 2,
        "size": 1,
        "kind": "corner-join",
        "stands_on": ["A2", "B1"],
        "total": 40,
        "foundation": [
            {"do": "pick-up", "stitches": 20, "onto": "B1", "edge": "top", "ridges": [1, 20]},
            {"do": "pick-up", "stitches": 20, "onto": "A2", "edge": "right", "ridges": [1, 20]},
        ],
        "round": 3,
    }


def test_the_body_that_the_contract_shows_names_what_cannot_be_knitted(anybody: Api) -> None:
    body = {
        **TWO_BY_TWO,
        "missing": ["B2"],
        "large": [{"at": "A1", "size": 2}],
        "seams": [["A1", "B1"]],
        "corner_trade": True,
    }

    answer = anybody.post("plan/", body)

    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} == {"large", "seams"}


def test_only_the_grid_must_be_given(anybody: Api) -> None:
    body = {"columns": 2, "rows": 2, "stitches": 20}

    assert anybody.post("plan/", body).json() == anybody.post("plan/", TWO_BY_TWO).json()


def test_squares_come_in_the_recommended_order(anybody: Api) -> None:
    body = {"columns": 3, "rows": 2, "stitches": 20}

    found = squares(anybody.post("plan/", body))

    assert list(found) == ["A1", "B1", "A2", "C1", "B2", "C2"]
    assert [square["round"] for square in found.values()] == [1, 2, 2, 3, 3, 4]


def test_the_four_kinds_with_the_corner_trade(anybody: Api) -> None:
    """TRADE.md, section 3: 40, 19 + 21, 21 + 19, 20 + 20."""
    found = squares(anybody.post("plan/", TWO_BY_TWO))

    assert {place: square["kind"] for place, square in found.items()} == {
        "A1": "base",
        "B1": "side-join",
        "A2": "top-join",
        "B2": "corner-join",
    }
    assert found["A1"]["foundation"] == [{"do": "cast-on", "stitches": 40, "how": "first"}]
    assert found["B1"]["foundation"] == [
        {"do": "cast-on", "stitches": 19, "how": "first"},
        {"do": "pick-up", "stitches": 21, "onto": "A1", "edge": "right", "ridges": [1, 20]},
    ]
    assert found["A2"]["foundation"] == [
        {"do": "pick-up", "stitches": 21, "onto": "A1", "edge": "top", "ridges": [1, 20]},
        {"do": "cast-on", "stitches": 19, "how": "last"},
    ]


def test_without_the_trade_both_runs_are_equal(anybody: Api) -> None:
    found = squares(anybody.post("plan/", {**TWO_BY_TWO, "corner_trade": False}))

    assert [step["stitches"] for step in found["B1"]["foundation"]] == [20, 20]


def test_the_left_hand_works_the_steps_from_the_other_end(anybody: Api) -> None:
    found = squares(anybody.post("plan/", {**TWO_BY_TWO, "hand": "left"}))

    assert found["B1"]["foundation"] == [
        {"do": "pick-up", "stitches": 21, "onto": "A1", "edge": "right", "ridges": [1, 20]},
        {"do": "cast-on", "stitches": 19, "how": "last"},
    ]
    assert [step["onto"] for step in found["B2"]["foundation"]] == ["A2", "B1"]


def test_the_centred_mitre_has_a_corner_stitch(anybody: Api) -> None:
    found = squares(anybody.post("plan/", {**TWO_BY_TWO, "mitre": "centred"}))

    assert {square["total"] for square in found.values()} == {41}
    assert found["B1"]["foundation"][1]["stitches"] == 21
    assert found["B2"]["foundation"] == [
        {"do": "pick-up", "stitches": 20, "onto": "B1", "edge": "top", "ridges": [1, 20]},
        {"do": "corner", "stitches": 1},
        {"do": "pick-up", "stitches": 20, "onto": "A2", "edge": "right", "ridges": [1, 20]},
    ]


def test_a_small_square_picks_up_along_part_of_a_large_one(anybody: Api) -> None:
    body = {"columns": 3, "rows": 3, "stitches": 20, "large": [{"at": "A1", "size": 2}]}

    found = squares(anybody.post("plan/", body))

    assert found["A1"]["size"] == 2
    assert found["A1"]["total"] == 80
    assert {"A2", "B1", "B2"}.isdisjoint(found)
    # Ridges of a right edge count from its bottom, of a top edge from its left.
    assert found["C2"]["foundation"][-1]["ridges"] == [21, 40]
    assert found["B3"]["foundation"][0]["ridges"] == [21, 40]
    assert found["C2"]["kind"] == "corner-join"


def test_a_large_square_can_cast_on_in_the_middle_of_its_path(anybody: Api) -> None:
    body = {
        "columns": 3,
        "rows": 3,
        "stitches": 10,
        "missing": ["A2", "B1", "A3"],
        "large": [{"at": "B2", "size": 2}],
    }

    steps = squares(anybody.post("plan/", body))["B2"]["foundation"]

    assert [step["do"] for step in steps] == ["pick-up", "cast-on"]
    body["missing"] = ["A2", "B1"]
    steps = squares(anybody.post("plan/", body))["B2"]["foundation"]
    assert [(step["do"], step.get("how")) for step in steps] == [
        ("pick-up", None),
        ("cast-on", "between"),
        ("pick-up", None),
    ]
    assert sum(step["stitches"] for step in steps) == 40


def test_seams_and_missing_places_cut_the_blanket_into_pieces(anybody: Api) -> None:
    seam = [["B1", "A1"], ["A2", "B2"]]

    answer = anybody.post("plan/", {**TWO_BY_TWO, "seams": seam})

    assert answer.json()["pieces"] == 2
    assert squares(answer)["B1"]["stands_on"] == []
    without = anybody.post("plan/", {**TWO_BY_TWO, "missing": ["A2", "B1"]})
    assert without.json()["pieces"] == 2
    assert list(squares(without)) == ["A1", "B2"]


def test_the_largest_blanket_is_planned(anybody: Api) -> None:
    answer = anybody.post("plan/", {"columns": 150, "rows": 150, "stitches": 2}).json()

    assert len(answer["squares"]) == 22_500
    assert (answer["rounds"], answer["widest_round"]) == (299, 150)
