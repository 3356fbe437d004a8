"""The drawings in a real browser, on paper, and in the README."""

from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.drawing import map_svg, planner_svg
from drives.words.map import boundary_words, place_words, square_words

from .boards import board
from .example import example

README_PICTURE = Path("shared/static/mitrewise/map-example.svg")


@pytest.mark.browser
def test_a_press_on_a_square_follows_its_link_through_all_that_is_drawn_there(
    browser: Browser,
) -> None:
    shown = board(plan(Layout(4, 4, 20, large=frozenset({Large(Place(2, 2), 2)}))), 4, 2)
    svg = map_svg(
        shown.plan,
        shown.state_of,
        title="Map of our blanket",
        link=lambda place: f"#{place}",
        label=lambda place: square_words(shown.plan, place, shown.state_of[place]),
        late=shown.late,
        mine=shown.mine,
    )
    page = browser.new_page(viewport={"width": 360, "height": 640})
    page.set_content(svg)

    for place in shown.plan.places:
        page.get_by_role("link", name=f"{place}, {shown.state_of[place]},").click()
        assert page.url.endswith(f"#{place}")
    assert page.get_by_role("group", name="Map of our blanket").count() == 1
    page.close()


@pytest.mark.browser
def test_the_keyboard_walks_the_map_in_the_recommended_order(browser: Browser) -> None:
    shown = board(plan(Layout(3, 2, 20)), 2, 1)
    page = browser.new_page()
    page.set_content(map_svg(shown.plan, shown.state_of, title="Map", link=lambda at: f"#{at}"))

    for place in shown.plan.places:
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.id") == f"map-{place}"
    page.close()


@pytest.mark.browser
def test_a_boundary_of_the_planner_is_pressed_rather_than_the_squares_beside_it(
    browser: Browser,
) -> None:
    page = browser.new_page()
    layout = Layout(2, 2, 20, missing=frozenset({Place(2, 2)}))
    page.set_content(
        planner_svg(
            layout,
            title="Plan",
            place_link=lambda at: f"#{at}",
            seam_link=lambda one, other: f"#{one}-{other}",
            place_label=partial(place_words, layout),
            seam_label=partial(boundary_words, layout),
        )
    )

    for name, there in (
        ("Between A1 and B1: joined", "A1-B1"),
        ("Between A2 and B2: joined", "A2-B2"),
        ("B2, missing", "B2"),
        ("A1", "A1"),
    ):
        page.get_by_role("link", name=name, exact=True).click()
        assert page.url.endswith(f"#{there}")
    page.close()


def test_paper_bears_every_name(tmp_path: Path) -> None:
    weasyprint = pytest.importorskip("weasyprint")
    shown = board(plan(Layout(3, 3, 20)), 3, 1)
    svg = map_svg(shown.plan, shown.state_of, title="Map", paper=True)

    weasyprint.HTML(string=f"<html lang=en><title>Map</title>{svg}").write_pdf(tmp_path / "map.pdf")

    words = PdfReader(tmp_path / "map.pdf").pages[0].extract_text().split()
    assert {"A1", "B1", "C1", "A2", "B2", "C2", "A3", "B3", "C3"} <= set(words)


def test_the_picture_of_the_readme_is_what_the_code_draws() -> None:
    assert README_PICTURE.read_text() == example() + "\n"
    counts = {
        state: sum(
            group.get("class") == state for group in ElementTree.fromstring(example()).iter()
        )
        for state in State
    }
    assert all(counts.values())  # it shows every state
