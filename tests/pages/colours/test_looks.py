"""A colour that somebody chose is the one that every drawing of the site shows."""

import pytest

from drives.actions.yarn.store import change_yarn
from drives.drawing.colours import mix
from drives.models import Mode, Yarn
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk
from tests.pages.conftest import Reader
from tests.store import FACTS, lay_colours, new_yarn

SUNSET, RAINBOW = "#ff7733", "#118899"


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """Names that tell no colour: one of the palette, one of the store."""
    desk = plan(mode=Mode.TRAVELLING)
    lay_colours(desk, cast.olga, {"Vera's sunset": SUNSET}, A1="Vera's sunset", B1="R42")
    new_yarn(cast.cora, colour="R42", value=RAINBOW)
    desk.knit("A1", cast.vera)
    desk.knit("B1", cast.vera)
    return desk


@pytest.mark.parametrize("page", ["", "live/", "pieces/", "map.svg", "colours/"])
def test_it_is_the_look_of_finished_squares(desk: Desk, vera: Reader, page: str) -> None:
    shown = vera.get(f"/blankets/{desk.blanket.pk}/{page}").text
    assert f'fill="{SUNSET}"' in shown
    assert f'fill="{RAINBOW}"' in shown


def test_it_is_the_look_of_a_piece(desk: Desk, vera: Reader) -> None:
    shown = vera.get(f"/pieces/{desk.blanket.pieces.get().pk}/").text
    assert f'fill="{SUNSET}"' in shown
    assert f'fill="{RAINBOW}"' in shown


def test_the_map_without_ink_has_none(desk: Desk, vera: Reader) -> None:
    shown = vera.get(f"/blankets/{desk.blanket.pk}/map.svg", {"ink": "black"}).text
    assert SUNSET not in shown
    assert RAINBOW not in shown


def test_a_neighbour_on_a_card_is_a_paler_one(desk: Desk, vera: Reader) -> None:
    above = vera.get(f"/blankets/{desk.blanket.pk}/squares/A2/").text
    assert mix(SUNSET, "#ffffff", 0.55) in above


def test_a_board_is_sent_again_when_a_yarn_of_it_looks_otherwise(
    desk: Desk, cast: Cast, vera: Reader
) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    tag = vera.get(address)["ETag"]
    facts = FACTS | {"colour": "R42", "value": "#00ff00"}
    change_yarn(yarn=Yarn.objects.get(), by=cast.cora, now=NOW, **facts)
    again = vera.get(address, headers={"If-None-Match": tag})
    assert again.status_code == 200
    assert 'fill="#00ff00"' in again.text
