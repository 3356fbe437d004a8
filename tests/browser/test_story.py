"""The main job, as people do it: plan a blanket, claim a square, join it right, finish it."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.cast import PASSWORD, Cast

from .conftest import SignIn

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_an_organiser_plans_and_a_volunteer_knits_in_order(
    cast: Cast, sign_in: SignIn, scripts: bool
) -> None:
    olga = sign_in(None, scripts=scripts)
    through_the_door(olga, "olga@example.org")
    plan_three_by_three(olga)

    vera = sign_in(None, scripts=scripts)
    through_the_door(vera, "vera@example.org")
    expect(vera.get_by_role("heading", level=1)).to_have_text("What you could knit now")
    vera.get_by_role("button", name="Take A1").click()
    first_stitches(vera, "Cast on 40")

    # TRADE.md, section 3; B2 joins onto both of its neighbours.
    refuse(vera, "B2", "B2 cannot be begun yet: it joins onto A2 and B1, not finished so far.")
    finish(vera, "A1", becomes_ready="A2 and B1")
    take(vera, "B1", "Cast on 19", "Pick up and knit 21 up the right edge of A1")
    finish(vera, "B1", becomes_ready="C1")
    take(vera, "A2", "Pick up and knit 21 along the top edge of A1", "Cast on 19")
    finish(vera, "A2", becomes_ready="A3 and B2")
    take(
        vera,
        "B2",
        "Pick up and knit 20 along the top edge of B1",
        "Pick up and knit 20 up the right edge of A2",
    )
    finish(vera, "B2", becomes_ready="")

    olga.reload()
    expect(olga.get_by_text("4 of 9 squares finished (44 %)")).to_be_visible()


def through_the_door(page: Page, email: str) -> None:
    page.goto("/")
    page.get_by_role("main").get_by_role("link", name="Sign in").click()
    page.get_by_label("Email").fill(email)
    page.get_by_label("Password").first.fill(PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def plan_three_by_three(page: Page) -> None:
    page.get_by_role("link", name="Circles").click()
    page.get_by_role("link", name="Harbour Lane").click()
    page.get_by_role("link", name="Make a drive").click()
    page.get_by_label("Name of the drive").fill("Small throws")
    page.get_by_role("button", name="Make the drive").click()
    # 20 stitches over 10 cm: three squares of 20 stitches are 30 cm.
    page.get_by_label("Width", exact=True).fill("30")
    page.get_by_label("Height", exact=True).fill("30")
    page.get_by_label("Stitches over 10 cm").fill("20")
    page.get_by_role("button", name="Show the nearest grids").click()
    page.get_by_role("link", name="Take 3 × 3 of 20 stitches").click()
    expect(page.get_by_text("30 cm × 30 cm")).to_be_visible()
    expect(page.get_by_text("B2: pick up 20 on B1 (top edge) + pick up 20 on A2")).to_be_visible()
    page.get_by_label("Name of the blanket").fill("Nine squares")
    page.get_by_role("button", name="Make this blanket").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Nine squares")
    expect(page.get_by_role("link", name="A1, ready, joins onto nothing")).to_be_visible()


def open_square(page: Page, place: str) -> None:
    """By the map, as it stands now."""
    page.get_by_role("link", name="Nine squares").first.click()
    page.get_by_role("link", name=re.compile(f"^{place}, ")).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(place)


def refuse(page: Page, place: str, sentence: str) -> None:
    """The card offers no press; one that is sent anyway, from an old page, is refused."""
    open_square(page, place)
    expect(
        page.get_by_text("It cannot be begun yet. First must be finished: A2, B1.")
    ).to_be_visible()
    expect(page.get_by_role("button", name=f"Take {place}")).to_have_count(0)
    old_page(page, place)
    expect(page.get_by_role("alert")).to_have_text(sentence)


def old_page(page: Page, place: str) -> None:
    """Send what the button of an outdated page would."""
    open_square(page, "A1")
    page.locator("form[action$='/A1/finish/']").evaluate(
        "(form, path) => {form.action = form.action.replace('A1/finish', path); form.submit()}",
        f"{place}/claim",
    )


def take(page: Page, place: str, *steps: str) -> None:
    open_square(page, place)
    page.get_by_role("button", name=f"Take {place}").click()
    first_stitches(page, *steps)


def first_stitches(page: Page, *steps: str) -> None:
    listed = page.locator("ol.steps li")
    expect(listed).to_have_count(len(steps))
    for number, step in enumerate(steps):
        expect(listed.nth(number)).to_contain_text(step)


def finish(page: Page, place: str, becomes_ready: str) -> None:
    open_square(page, place)
    page.get_by_role("button", name=f"{place} is finished").click()
    thanks = f"{place} is finished. Thank you!"
    if becomes_ready:
        thanks += f" Ready now: {becomes_ready}."
    expect(page.get_by_role("status").first).to_have_text(thanks)
