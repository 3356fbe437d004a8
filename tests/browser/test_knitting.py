"""The row counter in one hand: a press in one place, whatever stands above it."""

import pytest
from playwright.sync_api import Page, expect

from drives.craft.layout.layout import Layout, Mitre
from drives.models import Claim
from tests.cast import Cast
from tests.desk import Desk, new_blanket

from .conftest import SignIn

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("mitre", list(Mitre))
@pytest.mark.parametrize(("width", "letters"), [(320, 1), (360, 2), (768, 1), (1280, 1)])
def test_one_point_is_pressed_through_a_whole_square(
    cast: Cast, sign_in: SignIn, mitre: Mitre, width: int, letters: int
) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(1, 1, 9, mitre=mitre)))
    claim = desk.claim("A1", cast.vera)
    rows = claim.square.rows_to_knit
    page = sign_in(cast.vera.user, width=width)
    page.goto(f"/blankets/{desk.blanket.pk}/squares/A1/knit/")
    page.evaluate(f"document.documentElement.style.fontSize = '{letters * 100}%'")
    box = page.get_by_role("button", name="Row done").bounding_box()
    assert box
    point = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    for row in range(1, rows + 1):
        page.mouse.click(*point)
        if row % 4 == 0:  # now and then a look; else as quickly as a thumb can
            expect(page.get_by_role("progressbar")).to_have_js_property("value", row)
            assert sideways(page) == 0
    expect(page.get_by_text(f"All {rows} rows are done.")).to_be_visible()
    page.mouse.click(*point)
    assert Claim.objects.get().rows_done == rows
    page.get_by_role("button", name="One row back").click()
    expect(page.get_by_role("progressbar")).to_have_js_property("value", rows - 1)
    assert page.get_by_role("button", name="Row done").bounding_box() == box
    page.get_by_text("I did not count the rows").click()
    page.get_by_role("button", name="A1 is finished").click()
    expect(page.get_by_role("status").first).to_contain_text("A1 is finished. Thank you!")


def sideways(page: Page) -> int:
    """How far the page is wider than the screen."""
    told = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return max(int(told), 0)
