"""With scripts, squares are marked by pressing them; without, what is typed does the same."""

import pytest
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from drives.actions.colours.plans import set_palette
from drives.craft.layout.layout import Layout
from tests.actions.colours.test_plans import BANDS, colours
from tests.cast import Cast
from tests.desk import NOW, Desk, new_blanket

from .conftest import SignIn

pytestmark = pytest.mark.browser


def test_squares_are_pressed_and_painted(
    live_server: LiveServer, cast: Cast, sign_in: SignIn
) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(3, 2, 20)))
    set_palette(blanket=desk.blanket, by=cast.olga, wanted=BANDS, now=NOW)
    page = sign_in(cast.cora.user)
    page.goto(f"/blankets/{desk.blanket.pk}/colours/paint/")
    typed = page.get_by_label("Squares")
    page.get_by_label("Colour").select_option("cream")
    typed.fill("C1")
    page.get_by_role("link", name="A1", exact=True).click()
    expect(typed).to_have_value("A1 C1")
    expect(page.get_by_role("link", name="A1", exact=True)).to_be_focused()
    expect(page.locator("#said")).to_have_text("Marked: A1, C1")
    page.get_by_role("link", name="B2").press("Enter")
    expect(typed).to_have_value("A1 B2 C1")
    page.get_by_role("link", name="C1").click()
    expect(typed).to_have_value("A1 B2")
    page.get_by_role("button", name="Paint them").click()
    expect(page.get_by_text("2 squares changed.")).to_be_visible()
    assert {name for name, colour in colours(desk).items() if colour == "cream"} == {"A1", "B2"}
