"""What htmx makes smoother: the planner, the row counter, the board that refreshes itself."""

import re

import pytest
from playwright.sync_api import expect

from drives.craft.layout.layout import Layout
from tests.cast import Cast
from tests.desk import Desk, new_blanket, new_drive

from .conftest import SignIn

pytestmark = pytest.mark.browser


def test_presses_on_the_planner_redraw_it_and_keep_the_keyboard(
    cast: Cast, sign_in: SignIn
) -> None:
    page = sign_in(cast.olga.user)
    page.goto(f"/drives/{new_drive(cast.olga).pk}/plan/layout/")
    page.evaluate("window.stayed = true")
    page.locator("#planner-B2").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("link", name="B2, missing")).to_be_focused()
    expect(page.get_by_role("status").first).to_have_text("Squares: 8, rounds: 5, pieces: 1")
    page.locator("#planner-A1-B1").click()
    expect(page.get_by_role("link", name="Between A1 and B1: a seam")).to_be_visible()
    page.get_by_label("Squares across").fill("4")
    page.get_by_label("Squares across").press("Tab")
    expect(page.locator("#planner-D3")).to_be_visible()
    assert page.evaluate("window.stayed")
    assert "columns=4" in page.url
    assert "missing=B2" in page.url


def test_undo_and_the_way_back_return_to_what_was(cast: Cast, sign_in: SignIn) -> None:
    page = sign_in(cast.olga.user)
    page.goto(f"/drives/{new_drive(cast.olga).pk}/plan/layout/")
    page.locator("#planner-B2").click()
    expect(page.get_by_role("link", name="B2, missing")).to_be_visible()
    page.get_by_role("button", name="Undo the last press").click()
    expect(page.get_by_role("link", name="B2, missing")).to_have_count(0)
    expect(page.get_by_role("button", name="Undo the last press")).to_have_count(0)


def test_the_row_counter_goes_on_without_loading_the_page(cast: Cast, sign_in: SignIn) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(1, 1, 20)))
    desk.claim("A1", cast.vera)
    page = sign_in(cast.vera.user, width=360)
    page.goto(f"/blankets/{desk.blanket.pk}/squares/A1/")
    page.evaluate("window.stayed = true")
    for row in (1, 2, 3):
        page.get_by_role("button", name=f"Row {row} is done").click()
    expect(page.get_by_text("Row 4 of 40")).to_be_visible()
    page.get_by_role("button", name="One row back").click()
    expect(page.get_by_text("Row 3 of 40")).to_be_visible()
    assert page.evaluate("window.stayed")
    page.reload()
    expect(page.get_by_text("Row 3 of 40")).to_be_visible()


def test_the_board_asks_by_itself_and_shows_what_changed(cast: Cast, sign_in: SignIn) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(2, 2, 20)))
    page = sign_in(cast.cora.user)
    page.clock.install()
    page.goto(f"/blankets/{desk.blanket.pk}/")
    with page.expect_response(re.compile("/live/$")) as unchanged:
        page.clock.run_for(21_000)
    assert unchanged.value.status == 304
    desk.claim("A1", cast.vera)
    with page.expect_response(re.compile("/live/$")) as changed:
        page.clock.run_for(21_000)
    assert changed.value.status == 200
    expect(
        page.get_by_role("link", name="A1, taken, joins onto nothing, with Vera")
    ).to_be_visible()
    with page.expect_response(re.compile("/live/$")) as again:
        page.clock.run_for(21_000)
    assert again.value.status == 304


def test_the_map_is_reached_by_the_keyboard(cast: Cast, sign_in: SignIn) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(2, 2, 20)))
    page = sign_in(cast.vera.user)
    page.goto(f"/blankets/{desk.blanket.pk}/")
    page.get_by_role("region", name="Map").focus()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="A1, ready, joins onto nothing")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("A1")
