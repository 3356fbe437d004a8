"""A blanket of several sizes, with holes and seams: one count wherever it is read."""

import re
from typing import Any

import pytest
from django.test import Client
from playwright.sync_api import Page, expect

from drives.models import Blanket
from tests.cast import Cast
from tests.desk import new_drive
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed

from .conftest import SignIn

pytestmark = pytest.mark.browser

# 6 × 5 units of 12 stitches. B2, three units wide, stands on three squares below it and on two
# of the three on its left: the seam between A3 and B3 makes a cast-on in the middle of its path.
LAYOUT: dict[str, Any] = {
    "columns": 6,
    "rows": 5,
    "stitches": 12,
    "large": [{"at": "B2", "size": 3}, {"at": "E1", "size": 2}],
    "missing": ["A5", "E4", "F5"],
    "seams": [["A3", "B3"], ["C5", "D5"]],
}
# TRADE.md, section 3, by hand.
BY_HAND = {
    "B2": "pick up 12 on D1 + pick up 12 on C1 + pick up 12 on B1"
    " + pick up 12 on A2 + cast on 12 + pick up 12 on A4",
    "E1": "cast on 23 + pick up 13 on D1 + pick up 12 on B2",
    "C5": "pick up 12 on B2 + pick up 12 on B5",
    "D5": "pick up 13 on B2 + cast on 11",
    "E5": "cast on 11 + pick up 13 on D5",
    "F4": "pick up 13 on F3 + cast on 11",
}
STEP = re.compile(
    r"(cast on (?P<cast>\d+)|pick up (and knit )?(?P<pick>\d+)[^.+]*?(on|of) (?P<onto>[A-Z]\d))",
    re.IGNORECASE,
)
LINE = r"(?:(?:cast on \d+|pick up \d+ on [A-Z]\d \((?:top|right) edge\))(?: \+ )?)+"


def test_the_counts_are_the_same_on_every_screen_in_the_api_and_on_paper(
    cast: Cast, sign_in: SignIn
) -> None:
    page = sign_in(cast.olga.user)
    draw(page, new_drive(cast.olga).pk)
    on_the_planner = table_of(page)
    page.get_by_label("Name of the blanket").fill("Patchwork")
    page.get_by_role("button", name="Make this blanket").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Patchwork")

    client = Client()
    planned = client.post("/api/v1/plan/", LAYOUT, content_type="application/json").json()
    squares = {square["place"]: square for square in planned["squares"]}
    counts = {place: told(square["foundation"]) for place, square in squares.items()}
    assert len(squares) == 16
    assert {place: counts[place] for place in BY_HAND} == BY_HAND

    # The planner names one square of each kind, and how many there are.
    assert sum(int(many) for many, _line, _total in on_the_planner.values()) == len(squares)
    for place, (_many, line, total) in on_the_planner.items():
        assert (read(line), int(total)) == (counts[place], squares[place]["total"])

    blanket = Blanket.objects.get()
    for place, square in squares.items():
        label = re.compile(f"^{place}, .*joins onto {names(square['stands_on'])}$")
        expect(page.get_by_role("link", name=label)).to_have_count(1)

    assert cast.olga.user
    client.force_login(cast.olga.user)
    for place in squares:
        stored = client.get(f"/api/v1/blankets/{blanket.pk}/squares/{place}/").json()
        assert told(stored["foundation"]) == counts[place]

    printed = Printed(ask(blanket, cast)).words
    for place, square in squares.items():
        waits = f"waits for {names(square['stands_on'])} " if square["stands_on"] else ""
        on_paper = re.search(f" {place} {waits}({LINE})", printed)
        assert on_paper, place
        assert read(on_paper[1]) == counts[place]

    for place in squares:
        page.goto(f"/blankets/{blanket.pk}/squares/{place}/")
        steps = page.locator("ol.steps li").all_inner_texts()
        assert " + ".join(map(read, steps)) == counts[place]
        expect(page.get_by_text(f"Together {squares[place]['total']} stitches.")).to_be_visible()


def draw(page: Page, drive: int) -> None:
    """By pressing on the map alone, with one press too many that is taken back."""
    page.goto(f"/drives/{drive}/plan/layout/?columns=6&rows=5&stitches=12&gauge=20")
    for size, place in ((3, "B2"), (2, "E1")):
        page.get_by_label("A press on a place").select_option(str(size))
        press = page.locator(f"#planner-{place}")
        expect(press).to_have_attribute("href", re.compile(f"press={place}%C3%97{size}$"))
        press.click()
        expect(page.get_by_label("Large squares")).to_have_value(re.compile(f"{place}×{size}"))
    page.get_by_label("A press on a place").select_option("1")
    for place in ("A5", "E4", "F5", "A1"):
        press = page.locator(f"#planner-{place}")
        expect(press).to_have_attribute("href", re.compile(f"press={place}$"))
        press.click()
        expect(page.get_by_role("link", name=f"{place}, missing")).to_be_visible()
    page.get_by_role("button", name="Undo the last press").click()
    expect(page.get_by_role("link", name="A1, missing")).to_have_count(0)
    for first, second in LAYOUT["seams"]:
        page.locator(f"#planner-{first}-{second}").click()
        label = f"Between {first} and {second}: a seam"
        expect(page.get_by_role("link", name=label)).to_be_visible()
    expect(page.get_by_text("Squares: 16, rounds: 9, pieces: 1")).to_be_attached()


def table_of(page: Page) -> dict[str, tuple[str, str, str]]:
    """By the square that stands for its kind: how many, its line, its total."""
    rows = page.locator("table.stacks tbody tr")
    cells = [row.locator("td").all_inner_texts() for row in rows.all()]
    found = {}
    for many, example, total in cells:
        place, _, line = example.partition(": ")
        found[place] = (many, line, total)
    return found


def told(steps: list[dict[str, Any]]) -> str:
    """The steps of the API as one line."""
    return " + ".join(
        f"pick up {step['stitches']} on {step['onto']}"
        if step["do"] == "pick-up"
        else f"cast on {step['stitches']}"
        for step in steps
    )


def read(text: str) -> str:
    """The steps in a text that people read, as such a line."""
    return " + ".join(
        f"cast on {step['cast']}" if step["cast"] else f"pick up {step['pick']} on {step['onto']}"
        for step in STEP.finditer(text)
    )


def names(places: list[str]) -> str:
    if not places:
        return "nothing"
    *others, last = places
    return f"{', '.join(others)} and {last}" if others else last
