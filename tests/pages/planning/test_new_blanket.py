"""Drawing a new blanket."""

from html import unescape
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest

from accounts.models import Circle
from drives.craft.places import Place
from drives.models import Blanket
from drives.pages.planning.layout_form import MOST_TOLD
from tests.cast import Cast
from tests.desk import Desk, new_drive
from tests.pages.conftest import Reader, words

GRID: dict[str, Any] = {
    "columns": 3, "rows": 3, "stitches": 20, "mitre": "paired", "corner_trade": "on",
    "missing": "", "large": "", "seams": "", "brush": 1, "past": "", "gauge": 20, "name": "Waves",
}  # fmt: skip


@pytest.fixture
def address(cast: Cast) -> str:
    return f"/drives/{new_drive(cast.olga).pk}/plan/layout/"


def test_the_chosen_grid_is_shown_with_what_follows_from_it(olga: Reader, address: str) -> None:
    text = olga.read(address, {"columns": 3, "rows": 3, "stitches": 20, "gauge": "20.0"})
    assert "Size 30 cm × 30 cm Squares 9 Rounds 5 one after the other; at most 3" in text
    assert "side join: onto the square on its left 2 B1: cast on 19 + pick up 21 on A1" in text
    assert "corner join: onto both 4 B2: pick up 20 on B1 (top edge) + pick up 20 on A2" in text


def test_saving_makes_the_blanket_with_all_its_squares(olga: Reader, address: str) -> None:
    text = olga.press(address, GRID | {"do": "save", "missing": "C3", "seams": "A1–B1"})
    assert "Waves is planned." in text
    assert "The blanket waits for its first square" in text
    blanket = Blanket.objects.get()
    assert (blanket.name, blanket.squares.count(), float(blanket.gauge)) == ("Waves", 8, 20)
    assert blanket.seams == [["A1", "B1"]]
    assert Desk(blanket).unmet()["B1"] == 0


def test_a_press_takes_a_place_out_and_the_next_puts_it_back(olga: Reader, address: str) -> None:
    response = olga.get(address, GRID | {"press": "B2"})
    assert response.context["form"]["missing"].value() == "B2"
    assert "Squares 8" in words(response)
    link = _link(response.text, "planner-B2")
    again = olga.get(address + link)
    assert again.context["form"]["missing"].value() == ""
    assert "Squares 9" in words(again)


def test_a_press_between_two_squares_sets_a_seam(olga: Reader, address: str) -> None:
    link = _link(olga.get(address, GRID).text, "planner-A1-B1")
    response = olga.get(address + link)
    assert response.context["form"]["seams"].value() == "A1–B1"
    assert "base: joins onto nothing 2 A1: cast on 40" in words(response)


def test_a_press_can_make_a_large_square(olga: Reader, address: str) -> None:
    link = _link(olga.get(address, GRID | {"brush": 2}).text, "planner-B1")
    response = olga.get(address + link)
    assert response.context["form"]["large"].value() == "B1×2"
    assert "Squares 6" in words(response)


def test_undo_takes_the_last_press_back(olga: Reader, address: str) -> None:
    marked = GRID | {"missing": "B2", "seams": "A1–B1", "past": "B2 A1–B1", "undo": "1"}
    response = olga.post(address, marked)
    form = response.context["form"]
    assert (form["missing"].value(), form["seams"].value()) == ("B2", "")
    assert form["past"].value() == "B2"
    assert not Blanket.objects.exists()


def test_pressing_keeps_the_name_and_gauge(olga: Reader, address: str) -> None:
    link = _link(olga.get(address, GRID).text, "planner-B2")
    sent = parse_qs(urlsplit(link).query)
    assert (sent["name"], sent["gauge"], sent["press"]) == (["Waves"], ["20"], ["B2"])


def test_the_address_after_a_press_repeats_no_press(olga: Reader, address: str) -> None:
    pushed = olga.get(address, GRID | {"press": "B2"})["HX-Push-Url"]
    sent = parse_qs(urlsplit(pushed).query)
    assert "press" not in sent
    assert (sent["missing"], sent["name"]) == (["B2"], ["Waves"])


@pytest.mark.parametrize(
    ("marks", "sentence"),
    [
        ({"large": "C3×2"}, "The square at C3, 2 units wide, reaches outside the blanket."),
        ({"large": "A1×2", "missing": "B2"}, "B2 is a missing place inside the large square"),
        ({"missing": "D9"}, "D9 lies outside the blanket."),
        ({"missing": "hole"}, "“hole” is not the name of a place"),
        ({"columns": 151}, "Ensure this value is less than or equal to 150."),
    ],
)
def test_what_cannot_be_knitted_is_said_and_not_saved(
    olga: Reader, address: str, marks: dict[str, Any], sentence: str
) -> None:
    shown = olga.get(address, GRID | marks)
    assert shown.status_code == 200
    assert sentence in words(shown)
    saved = olga.post(address, GRID | marks | {"do": "save"})
    assert saved.status_code == 422
    assert not Blanket.objects.exists()


def test_a_crowd_of_large_squares_is_refused_at_once(olga: Reader, address: str) -> None:
    places = [Place(column, row) for column in range(1, 76) for row in range(1, 76)]
    fits_by_its_size = " ".join(f"{at}×2" for at in places)
    text = words(olga.post(address, GRID | {"columns": 80, "rows": 80, "large": fits_by_its_size}))
    assert "The squares at A1 and A2 overlap." in text
    assert text.count("overlap.") <= 2 * MOST_TOLD
    too_many = " ".join(f"{at}×10" for at in places)
    text = words(olga.post(address, GRID | {"columns": 150, "rows": 150, "large": too_many}))
    assert "Together the large squares do not fit into the largest blanket." in text


def test_a_blanket_needs_a_name(olga: Reader, address: str) -> None:
    response = olga.post(address, GRID | {"name": "", "do": "save"})
    assert response.status_code == 422
    assert "This field is required." in words(response)
    assert not Blanket.objects.exists()


def test_a_large_grid_is_typed_rather_than_pressed(olga: Reader, address: str) -> None:
    response = olga.get(address, GRID | {"columns": 41})
    assert "This map is too large to press on." in words(response)
    assert "planner-A1" not in response.text


def test_the_corner_trade_can_be_left_out(olga: Reader, address: str) -> None:
    sent = {name: value for name, value in GRID.items() if name != "corner_trade"}
    assert "B1: cast on 20 + pick up 20 on A1" in words(olga.get(address, sent))


def test_american_circles_read_centered(olga: Reader, cast: Cast, address: str) -> None:
    assert "paired centred" in olga.read(address)
    Circle.objects.filter(pk=cast.circle.pk).update(english="american")
    assert "paired centered" in olga.read(address)


def test_only_organisers_draw(cora: Reader, vera: Reader, stan: Reader, address: str) -> None:
    sent = GRID | {"do": "save"}
    statuses = [each.post(address, sent).status_code for each in (cora, vera, stan)]
    assert statuses == [403, 403, 404]


def _link(text: str, key: str) -> str:
    """Where the link with this id leads."""
    return unescape(text.partition(f'id="{key}"')[2].partition('href="')[2].partition('"')[0])
