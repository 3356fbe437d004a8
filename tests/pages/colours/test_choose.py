"""A volunteer chooses the colour of a square in hand, or brings her own."""

import pytest

from drives.actions.colours.plans import plan_colours
from drives.readings.colour_plans import PaletteColour, colours_wanted
from tests.actions.colours.test_plans import BANDS, apart, colours
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk
from tests.pages.conftest import Reader


@pytest.fixture
def desk(plan: Plan, cast: Cast) -> Desk:
    """Vera has A1, which is moss as planned."""
    desk = plan(3, 3)
    plan_colours(blanket=desk.blanket, by=cast.cora, wanted=BANDS, now=NOW)
    desk.claim("A1", cast.vera)
    return desk


def card(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/squares/A1/"


def at(desk: Desk) -> str:
    return f"{card(desk)}colour/"


def test_the_card_leads_there(desk: Desk, vera: Reader, cora: Reader, olga: Reader) -> None:
    for reader in (vera, cora, olga):
        assert "Choose its yarn" in reader.read(card(desk))
    assert "Choose its yarn" not in vera.read(card(desk).replace("A1", "B1"))


def test_one_that_is_possible(desk: Desk, vera: Reader) -> None:
    text = vera.read(at(desk))
    assert "Now it is moss." in text
    assert "moss (as now) 2 rust 3 cream" in text or "moss (as now) rust cream" in text
    told = vera.press(at(desk), {"do": "choose", "colour": "rust"})
    assert "A1 will be rust. So that no rule is broken, these change too: A2 and B1." in told
    assert apart(desk)
    log = vera.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "Vera chose rust for A1; 2 other squares changed." in log


def test_ones_own(desk: Desk, vera: Reader, cora: Reader) -> None:
    sent = {"do": "bring", "name": "Sunset", "value": "#FF8800"}
    assert "A1 will be Sunset." in vera.press(at(desk), sent)
    assert colours_wanted(desk.blanket).palette[-1] == PaletteColour(
        "Sunset", "#ff8800", own=True, at_most=1
    )
    assert "Sunset" not in cora.read(at(desk).replace("A1", "C3"))
    vera.press(at(desk), sent | {"name": "My plum", "value": "#808080"})
    assert colours_wanted(desk.blanket).palette[-1].value == "#6c3c5f"


def test_a_coordinator_chooses_for_others(desk: Desk, cora: Reader) -> None:
    cora.press(at(desk), {"do": "choose", "colour": "cream"})
    assert colours(desk)["A1"] == "cream"
    log = cora.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "Cora chose cream for Vera’s A1;" in log


def test_what_is_refused_is_said_there(desk: Desk, vera: Reader) -> None:
    response = vera.post(at(desk), {"do": "choose", "colour": "gold"})
    assert response.status_code == 409
    assert "“gold” is none of the blanket’s colours." in response.content.decode()
    response = vera.post(at(desk), {"do": "bring", "name": "", "value": "x"})
    assert response.status_code == 422
    assert set(response.context["bring"].errors) == {"name", "value"}


def test_others_cannot(desk: Desk, vera: Reader, stan: Reader) -> None:
    other = at(desk).replace("A1", "B1")
    assert "Only the person who has it in hand" in vera.read(other)
    assert vera.post(other, {"do": "choose", "colour": "rust"}).status_code == 409
    assert stan.get(at(desk)).status_code == 404


def test_finished_it_stays(desk: Desk, cast: Cast, vera: Reader) -> None:
    desk.finish("A1", cast.vera)
    assert "The square is finished, so its colour stays." in vera.read(at(desk))


def test_before_there_is_a_plan(plan: Plan, cora: Reader) -> None:
    assert "whoever organises it makes one first" in cora.read(at(plan()))
