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

SIZES = [
    OpenApiExample(
        "Nothing smaller than 90 × 120 cm",
        request_only=True,
        value={"width": 90, "height": 120, "gauge": 20, "at_least": True, "border": 4},
    ),
    OpenApiExample(
        "Nothing smaller than 90 × 120 cm",
        description="Only the nearest of its grids is shown here.",
        response_only=True,
        value={
            "sizes": [
                {
                    "stitches": 29,
                    "columns": 6,
                    "rows": 8,
                    "squares": 48,
                    "width": 91.0,
                    "height": 120.0,
                    "width_miss": 1.0,
                    "height_miss": 0.0,
                    "conflicts": [],
                }
            ]
        },
    ),
]

NEEDS = [
    OpenApiExample(
        "Two by two",
        description="With a border of four ridges, and two squares by the clock.",
        request_only=True,
        value={
            "columns": 2,
            "rows": 2,
            "stitches": 20,
            "gauge": 20,
            "border": 4,
            "minutes": [40, 45],
        },
    ),
    OpenApiExample(
        "Two by two",
        response_only=True,
        value={
            "squares": 4,
            "stitches": 3364,
            "hours": {"low": 2.7926739926739925, "high": 3.126007326007326, "by_clock": 2},
            "size": {"width": 24.0, "height": 24.0},
            "border": {
                "ridges": 4,
                "bottom": 40,
                "right": 40,
                "top": 40,
                "left": 40,
                "corners": 4,
                "total": 164,
            },
            "holes": [],
            "finishing": {"ends": 8, "seams": 0, "markers": 4},
        },
    ),
]

COLOURS = [
    OpenApiExample(
        "Moss of the store, and rust that somebody brings",
        request_only=True,
        value={
            "palette": [
                {"name": "moss"},
                {"name": "rust", "own": True, "value": "#a9502b", "at_most": 9},
            ],
            "pattern": "chequered",
            "apart": True,
            "margin": 10,
        },
    )
]

PAINT = [
    OpenApiExample(
        "Three squares", request_only=True, value={"colour": "moss", "places": ["A1", "B1", "C2"]}
    )
]

SWATCH = [
    OpenApiExample(
        "Twenty stitches and twenty ridges on needles of 4 mm",
        request_only=True,
        value={"stitches": 20, "width": 10.5, "ridges": 20, "height": 10, "needle": 4},
    )
]

SIDES = [OpenApiExample("A square", request_only=True, value={"width": 10.5, "height": 10})]

TOO_NARROW = {"subject": "plan 3", "code": "too-small", "about": "shorter"}
OVERRULE = [
    OpenApiExample(
        "A plan that is too narrow",
        request_only=True,
        value={**TOO_NARROW, "reason": "The matron takes it all the same."},
    )
]
UPHOLD = [OpenApiExample("A plan that is too narrow", request_only=True, value=TOO_NARROW)]

RULES = [
    OpenApiExample(
        "A ward that washes at 60 °C",
        request_only=True,
        value={
            "rules": {
                "shorter_from": 75,
                "longer_to": 120,
                "refused": ["wool", "mohair"],
                "machine_wash": True,
                "temperature": 60,
                "holes": False,
            },
            "country": "GB",
            "told_by": "The matron",
            "told_on": "2026-11-01",
        },
    )
]

LAYOUT = [
    OpenApiExample(
        "Two by two, with a border",
        request_only=True,
        value={"columns": 2, "rows": 2, "stitches": 20, "gauge": 20, "border": 4},
    )
]
