"""Examples for the documentation of the API."""

from drf_spectacular.utils import OpenApiExample

STEPS = [
    {"do": "pick-up", "stitches": 20, "onto": "B1", "edge": "top", "ridges": [1, 20]},
    {"do": "pick-up", "stitches": 20, "onto": "A2", "edge": "right", "ridges": [1, 20]},
]
LAST_SQUARE = {
    "place": "B2",
    "column": 2,
    "row": 2,
    "size": 1,
    "kind": "corner-join",
    "stands_on": ["A2", "B1"],
    "total": 40,
    "foundation": STEPS,
    "round": 3,
}

PLAN = [
    OpenApiExample(
        "Two by two",
        request_only=True,
        value={"columns": 2, "rows": 2, "stitches": 20, "mitre": "paired", "hand": "right"},
    ),
    OpenApiExample(
        "One large square",
        description="With two missing places and a seam.",
        request_only=True,
        value={
            "columns": 3,
            "rows": 3,
            "stitches": 20,
            "large": [{"at": "A1", "size": 2}],
            "missing": ["A3", "C3"],
            "seams": [["B2", "B3"]],
        },
    ),
    OpenApiExample(
        "Two by two",
        description="Only the last of its four squares is shown here.",
        response_only=True,
        value={"squares": [LAST_SQUARE], "rounds": 3, "widest_round": 2, "pieces": 1},
    ),
]

ROWS = [
    OpenApiExample(
        "Twenty stitches along the side",
        request_only=True,
        value={"stitches": 20, "mitre": "paired"},
    )
]
