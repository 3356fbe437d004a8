"""The colour plan on its page: looked at, kept, refused in words, painted by hand."""

from typing import Any

import pytest
from django.test import override_settings
from pytest_django import DjangoAssertNumQueries

from drives.actions.colours.lots import choose_lots
from drives.actions.colours.plans import plan_colours
from drives.craft.colours.wish import Pattern
from drives.craft.fibre.fibres import Fibre
from drives.craft.yarn.lots import LotWay
from drives.craft.yarn.weighing import Swatch
from drives.readings.colour_plans import ColoursWanted, PaletteColour, colours_wanted
from tests.actions.colours.test_plans import colours, stored
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, everything, seams
from tests.pages.conftest import Reader, words
from tests.store import new_yarn


def at(desk: Desk, more: str = "") -> str:
    return f"/blankets/{desk.blanket.pk}/colours/{more}"


def form(*rows: dict[str, str], do: str = "look", **more: str) -> dict[str, Any]:
    """What a browser sends of the form."""
    cells = {
        f"colours-{number}-{field}": value
        for number, row in enumerate(rows)
        for field, value in ({"value": "#808080", "at_most": ""} | row).items()
    }
    count = {"colours-TOTAL_FORMS": len(rows), "colours-INITIAL_FORMS": 0}
    return {"do": do, "pattern": "bands", "margin": "0", **count, **cells} | more


MOSS, RUST = {"name": "moss"}, {"name": "rust"}
PLUM = {"name": "plum", "own": "on"}
BEIGE = {"name": "beige", "own": "on", "value": "#d8c4a0"}


@pytest.fixture
def store(cast: Cast) -> None:
    for name, grams in (("moss", 1000), ("rust", 45)):
        new_yarn(cast.cora, grams, colour=name, value="#6f7f3f", category=4)


def test_it_says_what_to_do_first(plan: Plan, cora: Reader, vera: Reader) -> None:
    desk = plan()
    text = cora.read(at(desk))
    assert "No square has a colour yet. Choose the colours below" in text
    assert "The yarn store is empty. Put yarn into it" in text
    assert "Whoever organises the blanket chooses them." in vera.read(at(desk))
    assert "Make the plan" not in vera.read(at(desk))
    assert "Colours: which square is knitted in which yarn?" in vera.read(
        f"/blankets/{desk.blanket.pk}/"
    )


@pytest.mark.usefixtures("store")
def test_colours_are_picked_from_the_store_and_put_in_order(plan: Plan, cora: Reader) -> None:
    desk = plan()
    assert "Add from the store moss, 1000 g rust, 45 g" in cora.read(at(desk))
    before = everything()
    response = cora.post(at(desk), form(PLUM, do="add:moss"))
    names = [row["name"] for row in response.context["rows"]]
    assert names == ["plum", "moss"]
    response = cora.post(at(desk), form(PLUM, MOSS, RUST, do="up:2"))
    assert [row["name"] for row in response.context["rows"]] == ["plum", "rust", "moss"]
    response = cora.post(at(desk), form(PLUM, MOSS, RUST, do="drop:0"))
    assert [row["name"] for row in response.context["rows"]] == ["moss", "rust"]
    response = cora.post(at(desk), form(MOSS, do="own"))
    assert [row["own"] for row in response.context["rows"]] == [False, True]
    for nonsense in ("up:0", "up:9", "drop:x", "add:gold", "drop:", "?"):
        response = cora.post(at(desk), form(MOSS, RUST, do=nonsense))
        assert [row["name"] for row in response.context["rows"]] == ["moss", "rust"]
    assert everything() == before


def test_a_look_stores_nothing_and_the_plan_is_what_was_seen(plan: Plan, cora: Reader) -> None:
    desk = plan()
    before = everything()
    seen = cora.post(at(desk), form(PLUM, BEIGE, apart="on"))
    assert "So it would be: 4 squares would change. Nothing is stored yet." in words(seen)
    assert everything() == before
    text = cora.press(at(desk), form(PLUM, BEIGE, apart="on", do="plan"))
    assert "The plan is made: 4 squares changed." in text
    assert colours(desk) == {"A1": "plum", "B1": "beige", "A2": "beige", "B2": "plum"}
    lines = [(line.name, line.places) for line in seen.context["lines"]]
    assert lines == [("plum", "A1, B2"), ("beige", "A2, B1")]
    desk.blanket.refresh_from_db()
    assert colours_wanted(desk.blanket).palette == (
        PaletteColour("plum", "#6c3c5f", own=True),  # left grey, it looks as its name says
        PaletteColour("beige", "#d8c4a0", own=True),
    )
    again = cora.post(at(desk), form(BEIGE, PLUM, apart="on"))
    assert "As it is now" in again.content.decode()
    same = cora.post(at(desk), form(PLUM, BEIGE, apart="on"))
    assert "So it would be: as it is now." in same.content.decode()


def test_of_seams_is_asked_where_there_are_some(plan: Plan, cora: Reader) -> None:
    assert 'name="over_seams"' not in cora.get(at(plan())).text
    desk = plan(2, 1, seams=seams("A1-B1"))
    assert 'name="over_seams" id="id_over_seams" checked>' in cora.get(at(desk)).text
    only = {**PLUM, "value": "#6c3c5f"}
    refused = cora.post(at(desk), form(only, apart="on", over_seams="on"))
    assert refused.context["helps"][:2] == [
        "There is a plan if squares with a seam between them may be alike.",
        "There is a plan if squares side by side may be alike.",
    ]
    cora.press(at(desk), form(only, apart="on", do="plan"))
    assert colours(desk) == {"A1": "plum", "B1": "plum"}
    assert 'name="over_seams" id="id_over_seams">' in cora.get(at(desk)).text


@pytest.mark.usefixtures("store")
def test_what_is_short_is_told_with_what_would_help(plan: Plan, cora: Reader) -> None:
    desk = plan(4, 4)
    rows = MOSS, {**RUST, "at_most": "8"}
    before = everything()
    for do, status in (("look", 200), ("plan", 409)):
        response = cora.post(at(desk), form(*rows, do=do, apart="on", margin="10"))
        assert response.status_code == status
        text = " ".join(response.content.decode().split())
        assert (
            "moss can take at most 8 of them. At most 3 squares may be rust. 5 squares short."
            in text
        )
        assert response.context["helps"] == [
            "There is a plan if squares side by side may be alike.",
            "There is a plan with one more colour, if there is enough of it.",
        ]
        assert "Nothing has changed." in text
        assert 'name="colours-1-at_most" value="8"' in text
    assert everything() == before


@pytest.mark.usefixtures("store")
def test_less_margin_or_no_limits_may_help(plan: Plan, cora: Reader) -> None:
    desk = plan(3, 1)
    response = cora.post(at(desk), form(RUST, margin="20", do="plan"))
    assert "There is a plan with no yarn kept in reserve." in response.context["helps"]
    response = cora.post(at(desk), form({**MOSS, "at_most": "2"}, do="plan"))
    assert response.context["helps"][0] == (
        "There is a plan without the limit to the squares of a colour."
    )


def test_the_palette_can_be_noted_alone(plan: Plan, cora: Reader) -> None:
    desk = plan()
    text = cora.press(at(desk), form(PLUM, BEIGE, do="note"))
    assert "Noted. No square has changed." in text
    assert colours(desk)["A1"] == ""
    log = cora.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "Cora noted the yarns: plum and beige." in log


@pytest.mark.usefixtures("store")
@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ((), "Choose at least one colour first."),
        ((PLUM, {**PLUM, "name": "Plum"}), "This colour is there twice."),
        (({**PLUM, "name": "Moss"},), "The store has a colour of this name: add that one."),
        (({**PLUM, "name": ""},), "This field is required."),
        (({"name": "gold"},), "There is no “gold” in the store any more"),
        (({**MOSS, "at_most": "0"},), "greater than or equal to 1"),
    ],
)
def test_what_cannot_be_is_said(
    plan: Plan, cora: Reader, rows: tuple[dict[str, str], ...], told: str
) -> None:
    response = cora.post(at(plan()), form(*rows, do="plan"))
    assert response.status_code == 422
    assert told in response.content.decode()


def test_what_nobody_knows_is_said(cast: Cast, plan: Plan, cora: Reader) -> None:
    new_yarn(cast.cora, 5, colour="moss")
    text = cora.press(at(plan()), form(MOSS, do="plan"))
    assert "Nothing is known yet of what a square of moss weighs, so it is taken to be" in text


def test_colours_that_look_alike_are_named(plan: Plan, cora: Reader, vera: Reader) -> None:
    desk = plan()
    almost = {"name": "almost plum", "own": "on", "value": "#6c3c60"}
    text = cora.press(at(desk), form(PLUM, almost, do="plan"))
    line = "Plum and almost plum look alike to most people; give one of them a pattern."
    assert line in text
    assert line in vera.read(at(desk))


def test_new_squares_get_the_next_plan(plan: Plan, cast: Cast, cora: Reader, olga: Reader) -> None:
    desk = plan(2, 2)
    cora.press(at(desk), form(PLUM, BEIGE, do="plan", apart="on"))
    layout = f"/blankets/{desk.blanket.pk}/layout/"
    assert "new ones get theirs with the next plan: Colours" in olga.read(layout)
    sent = {"do": "save", "columns": 3, "rows": 2, "stitches": 20, "mitre": "paired", "brush": 1}
    olga.press(layout, sent | {"corner_trade": "on"})
    assert "Without a colour: 2. The next plan gives them one." in cora.read(at(desk))
    assert colours(desk)["A2"] == "beige"


def test_squares_are_painted_by_hand(plan: Plan, cast: Cast, cora: Reader) -> None:
    desk = plan(3, 3)
    assert "There is nothing to paint with yet." in cora.read(at(desk, "paint/"))
    cora.press(at(desk), form(PLUM, BEIGE, do="note", apart="on"))
    cora.press(at(desk, "paint/"), {"colour": "beige", "places": "A1"})
    desk.knit("A1", cast.vera)
    text = cora.press(at(desk, "paint/"), {"colour": "plum", "places": "a1–b2, C2"})
    assert "4 squares changed." in text
    assert "Finished, so unchanged: A1." in text
    assert "B1 and B2 lie side by side, and both are plum." in text
    painted = {name for name, colour in colours(desk).items() if colour == "plum"}
    assert painted == {"A2", "B1", "B2", "C2"}
    cora.press(at(desk, "paint/"), {"colour": " ", "places": "B2"})
    assert not desk.square("B2").colour_fixed
    text = cora.press(at(desk), form(PLUM, BEIGE, do="plan", apart="on"))
    assert "The plan is made: 5 squares changed." in text
    assert colours(desk)["B2"] == "beige"


@pytest.mark.parametrize("typed", ["", "D1", "A1 nowhere", "A1-", "A1–Z9–B1"])
def test_what_names_no_square_is_said(plan: Plan, cora: Reader, typed: str) -> None:
    response = cora.post(at(plan(), "paint/"), {"colour": " ", "places": typed})
    assert response.status_code == (302 if typed == "A1-" else 422)


def test_a_press_marks_a_square_and_takes_it_out_again(plan: Plan, cora: Reader) -> None:
    desk = plan()
    cora.press(at(desk), form(PLUM, BEIGE, do="note"))
    sent = {"colour": "beige", "places": "B1", "press": "A2"}
    response = cora.get(at(desk, "paint/"), sent)
    assert [response.context["form"][name].value() for name in ("colour", "places")] == [
        "beige",
        "A2 B1",
    ]
    assert response.context["marked"] == "A2, B1"
    response = cora.get(at(desk, "paint/"), sent | {"press": "B1"})
    assert response.context["form"]["places"].value() == ""
    response = cora.get(at(desk, "paint/"), sent | {"press": "Z9"})
    assert response.context["form"]["places"].value() == "B1"


@override_settings(DEBUG=False)
@pytest.mark.parametrize("side", [2, 8])
def test_they_take_as_many_queries_at_any_size(
    plan: Plan,
    cast: Cast,
    cora: Reader,
    store: None,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
) -> None:
    desk = plan(side, side)
    own = PaletteColour("plum", "#6c3c5f", own=True)
    asked = stored("moss", "rust")
    asked = ColoursWanted((*asked.palette, own), Pattern.BANDS, apart=False, margin=0)
    plan_colours(blanket=desk.blanket, by=cast.cora, wanted=asked, now=NOW)
    cora.get(at(desk))
    with django_assert_num_queries(15):
        cora.get(at(desk))
    with django_assert_num_queries(14):
        cora.get(at(desk, "paint/"))
    with django_assert_num_queries(15):
        cora.get(f"/blankets/{desk.blanket.pk}/squares/A1/colour/")


def test_a_plan_whose_dye_lots_cannot_lie_as_is_wished_is_told_before_and_after(
    cast: Cast, plan: Plan, cora: Reader
) -> None:
    known: Any = {"category": 4, "fibres": {Fibre.WOOL: 100}, "swatch": Swatch(29, 29, 8)}
    lots = [new_yarn(cast.cora, 30, dye_lot=lot, **known) for lot in "AB"]
    desk = plan(2, 2)
    way = LotWay.NEVER_SIDE_BY_SIDE
    yarns = [yarn.pk for yarn in lots]
    choose_lots(blanket=desk.blanket, colour="Navy", yarns=yarns, way=way, by=cast.cora, now=NOW)
    for do, status in (("look", 200), ("plan", 409)):
        sent = form({"name": "Navy", "value": "#26375c"}, do=do, pattern="free", apart="")
        answer = cora.post(at(desk), sent)
        assert answer.status_code == status
        assert "No way was found to keep the dye lots of Navy apart as you chose" in words(answer)
        assert "Keep this plan" not in words(answer)
    assert not colours_wanted(desk.blanket).palette
