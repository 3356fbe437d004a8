"""A forecast in a real browser: it shows by itself; panels are compared, chosen, cut."""

import re

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from drives.craft.layout.layout import Layout
from drives.models import Blanket, Sheet, Status
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.desk import DAY, Desk, new_blanket

from .conftest import NARROW, WIDE, SignIn
from .looks import faults

pytestmark = [pytest.mark.browser, pytest.mark.usefixtures("own_files")]


@pytest.fixture
def desk(cast: Cast) -> Desk:
    deadline = timezone.localdate() + 40 * DAY
    return Desk(new_blanket(cast.olga, Layout(4, 4, 20), mode="travelling", deadline=deadline))


def work() -> None:
    """What a worker does with all that waits."""
    for sheet in Sheet.objects.filter(status=Status.QUEUED):
        render_sheet(sheet_id=sheet.pk)


def test_the_answer_shows_by_itself(desk: Desk, cast: Cast, sign_in: SignIn) -> None:
    desk.knit("A1", cast.vera)
    page = sign_in(cast.vera.user, NARROW)
    page.goto(f"/blankets/{desk.blanket.pk}/")
    page.get_by_role("link", name="When will it be done?").click()
    expect(page.get_by_text("It waits for its turn.")).to_be_visible()
    work()
    expect(page.get_by_text("1 of 16 squares are finished.")).to_be_visible()
    assert page.url.endswith(f"/blankets/{desk.blanket.pk}/forecast/")
    expect(page.get_by_role("img", name="Finished squares of Blanket over time")).to_be_visible()
    assert faults(page, WIDE, NARROW) == []


def test_panels_are_compared_chosen_and_cut(desk: Desk, cast: Cast, sign_in: SignIn) -> None:
    page = sign_in(cast.olga.user, NARROW)
    page.goto(f"/blankets/{desk.blanket.pk}/panels/")
    page.get_by_label("Days for a square").fill("4")
    page.get_by_role("button", name="Compare").click()
    expect(page.get_by_text("It waits for its turn.")).to_be_visible()
    work()
    choice = page.get_by_role("link", name=re.compile("Choose this ?: 2 panels along the columns"))
    expect(choice).to_be_visible()
    assert "pace=4" in page.url
    assert faults(page, WIDE, NARROW) == []
    choice.click()
    expect(page.get_by_text("It is cut along these lines: B–C.")).to_be_visible()
    assert Blanket.objects.get().seams == []
    assert faults(page, WIDE, NARROW) == []
    page.get_by_role("button", name="Cut it").click()
    expect(page.get_by_text("The blanket is cut; the seams stand on its map.")).to_be_visible()
    assert len(Blanket.objects.get().seams) == 4


def test_the_rota_shows_by_itself_and_home_says_the_same(
    desk: Desk, cast: Cast, sign_in: SignIn
) -> None:
    desk.knit("A1", cast.vera)
    page = sign_in(cast.vera.user, NARROW)
    page.goto(f"/blankets/{desk.blanket.pk}/rota/")
    expect(page.get_by_text("It waits for its turn.")).to_be_visible()
    work()
    expect(page.get_by_role("heading", name="The next three weeks")).to_be_visible()
    assert faults(page, WIDE, NARROW) == []
    page.goto("/")
    expect(page.get_by_text("This is your next square, from")).to_be_visible()
    assert faults(page, WIDE, NARROW) == []
