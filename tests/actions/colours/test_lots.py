"""Choosing which dye lots of a colour count together."""

from typing import Any

import pytest

from accounts.models import Event
from drives.actions.colours.by_hand import colour_squares
from drives.actions.colours.lots import choose_lots, keep_to_one_lot
from drives.actions.colours.plans import plan_colours
from drives.audit import audit
from drives.craft.colours.wish import Pattern
from drives.craft.fibre.fibres import Fibre
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay
from drives.models import LotChoice, Square, Yarn
from drives.readings.colour_plans import ColoursWanted, PaletteColour
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, refused
from tests.store import new_yarn

WOOL, ACRYLIC = {Fibre.WOOL: 100}, {Fibre.ACRYLIC: 100}


@pytest.fixture
def desk(plan: Plan) -> Desk:
    return plan()


@pytest.fixture
def lots(cast: Cast) -> list[Yarn]:
    """A and B are alike, C is thicker, D of other fibres, and of E nobody knows."""
    told: list[dict[str, Any]] = [
        {"dye_lot": "A", "category": 4, "fibres": WOOL},
        {"dye_lot": "B", "category": 4, "fibres": WOOL},
        {"dye_lot": "C", "category": 5, "fibres": WOOL},
        {"dye_lot": "D", "category": 4, "fibres": ACRYLIC},
        {"dye_lot": "E"},
    ]
    return [new_yarn(cast.cora, **facts) for facts in told]


def choose(desk: Desk, by: Any, yarns: list[Yarn], **more: Any) -> bool:
    facts: dict[str, Any] = {
        "colour": "Navy",
        "yarns": [yarn.pk for yarn in yarns],
        "way": LotWay.NEVER_SIDE_BY_SIDE,
    }
    return choose_lots(blanket=desk.blanket, by=by, now=NOW, **facts | more)


def test_a_choice_is_noted_once(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    assert choose(desk, cast.cora, lots[:2])
    assert not choose(desk, cast.cora, lots[1::-1])
    assert choose(desk, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    choice = LotChoice.objects.get()
    assert (choice.way, list(choice.yarns.all())) == (LotWay.AT_A_SEAM, lots[:2])
    assert keep_to_one_lot(blanket=desk.blanket, colour="Navy", by=cast.cora, now=NOW)
    assert not keep_to_one_lot(blanket=desk.blanket, colour="Navy", by=cast.cora, now=NOW)
    noted = Event.objects.filter(verb__contains="lot").order_by("pk")
    assert [event.verb for event in noted] == ["lots-chosen", "lots-chosen", "one-lot-chosen"]
    assert noted[0].facts["lots"] == ["A", "B"]
    assert list(audit()) == []


def test_unlike_yarns_are_refused(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    one, _same, thick, other, unknown = lots
    for yarn, why, sentence in (
        (thick, "thickness", "“Navy (A)” and “Navy (C)” are not equally thick: never mix them."),
        (other, "fibres", "“Navy (A)” and “Navy (D)” are not of the same fibres: never mix them."),
        (
            unknown,
            "not-known",
            "Note the weight category and the fibres of both “Navy (A)” and “Navy (E)” first: "
            "thickness and fibres are never mixed.",
        ),
    ):
        with refused("lots-unlike", sentence, why=why):
            choose(desk, cast.cora, [one, yarn])
    sentence = "“Navy (A)” and “Navy (D)” are not of the same fibres: never mix them."
    with refused("lots-unlike", sentence, why="fibres"):
        choose(desk, cast.cora, [*lots[:2], other])
    assert not LotChoice.objects.exists()


def test_one_lot_is_no_choice(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    sentence = "Choose two dye lots of Navy or more; one alone needs no choice."
    with refused("one-lot-alone", sentence):
        choose(desk, cast.cora, lots[:1])
    sentence = "The store has no such dye lot of Rose any more; look at the store again."
    with refused("no-such-lot", sentence):
        choose(desk, cast.cora, lots[:2], colour="Rose")


def lots_of(desk: Desk) -> dict[str, str]:
    """Of each square that has one, the dye lot."""
    squares = desk.blanket.squares.exclude(dye_lot=None).select_related("dye_lot")
    return {str(square): square.dye_lot.dye_lot for square in squares if square.dye_lot}


# A square of 20 stitches takes 8 g and 10 % in reserve: eight squares 71 g, and each lot is
# enough for five.
@pytest.fixture
def two_panels(cast: Cast, plan: Plan, lots: list[Yarn]) -> Desk:
    """Two panels of 2 × 2 squares, all navy, with 45 g of each of the two lots that are alike."""
    weighed = plan(1, 1)
    weighed.knit("A1", cast.vera)
    Square.objects.update(grams=8, colour="Navy", finished_at=NOW - DAY)
    Yarn.objects.update(grams=45, swatch_stitches=29, swatch_rows=29, swatch_grams=8, added_at=NOW)
    desk = plan(4, 2)
    desk.blanket.seams = [["B1", "C1"], ["B2", "C2"]]
    desk.blanket.save()
    colours = dict.fromkeys(desk.blanket.plan().places, "Navy")
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=colours, now=NOW)
    return desk


def test_lots_change_at_a_seam(cast: Cast, two_panels: Desk, lots: list[Yarn]) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    given = lots_of(two_panels)
    assert len(given) == 8
    left, right = ({given[f"{at}{row}"] for at in pair for row in "12"} for pair in ("AB", "CD"))
    assert sorted([*left, *right]) == ["A", "B"]
    keep_to_one_lot(blanket=two_panels.blanket, colour="Navy", by=cast.cora, now=NOW)
    assert lots_of(two_panels) == {}


def test_lots_of_which_less_is_left_are_laid_anew(
    cast: Cast, two_panels: Desk, lots: list[Yarn]
) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    assert not choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    Yarn.objects.filter(dye_lot="A").update(grams=10)
    Yarn.objects.filter(dye_lot="B").update(grams=90)
    assert choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    assert [*lots_of(two_panels).values()] == ["B"] * 8
    assert not choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)


def test_lots_that_cannot_lie_so_are_left_out(
    cast: Cast, two_panels: Desk, lots: list[Yarn]
) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.NEVER_SIDE_BY_SIDE)
    assert lots_of(two_panels) == {}  # all of them touch, and no lot is enough for all
    places = {Place.parse(name): "Rose" for name in ("B1", "B2")}
    colour_squares(blanket=two_panels.blanket, by=cast.cora, colours=places, now=NOW)
    given = lots_of(two_panels)
    assert {given[name] for name in ("A1", "A2")} != {given[name] for name in ("C1", "D1")}
    assert len({given[name] for name in ("C1", "C2", "D1", "D2")}) == 1


def test_what_is_begun_keeps_its_lot(cast: Cast, two_panels: Desk, lots: list[Yarn]) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    before = lots_of(two_panels)
    two_panels.claim("A1", cast.vera)
    other = next(yarn for yarn in lots[:2] if yarn.dye_lot != before["A1"])
    other.grams = 500
    other.save()
    choose(two_panels, cast.cora, lots[:2], way=LotWay.NEVER_SIDE_BY_SIDE)
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    assert lots_of(two_panels)["A1"] == before["A1"]
    assert lots_of(two_panels)["B2"] == before["A1"]


def test_a_plan_whose_lots_cannot_lie_so_is_refused(
    cast: Cast, two_panels: Desk, lots: list[Yarn]
) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.NEVER_SIDE_BY_SIDE)
    two_panels.blanket.squares.update(colour="", colour_fixed=False)
    wanted = ColoursWanted(
        (PaletteColour("Navy", "#26375c"),), Pattern.BANDS, apart=False, margin=10
    )
    sentence = (
        "No way was found to keep the dye lots of Navy apart as you chose. Let them meet the other "
        "way, or plan fewer squares of it."
    )
    with refused("no-lot-plan", sentence, colours=["Navy"]):
        plan_colours(blanket=two_panels.blanket, by=cast.cora, wanted=wanted, now=NOW)
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    plan_colours(blanket=two_panels.blanket, by=cast.cora, wanted=wanted, now=NOW)
    assert sorted(lots_of(two_panels).values()) == ["A"] * 4 + ["B"] * 4


def test_colours_are_planned_so_that_their_lots_can_lie_apart(
    cast: Cast, two_panels: Desk, lots: list[Yarn]
) -> None:
    """Alone, bands would lay more navy side by side than any lot is enough for."""
    choose(two_panels, cast.cora, lots[:2], way=LotWay.NEVER_SIDE_BY_SIDE)
    two_panels.blanket.squares.update(colour="", colour_fixed=False)
    palette = (
        PaletteColour("Navy", "#26375c"),
        PaletteColour("Rose", "#b0506a", own=True, at_most=2),
    )
    wanted = ColoursWanted(palette, Pattern.BANDS, apart=False, margin=10)
    plan_colours(blanket=two_panels.blanket, by=cast.cora, wanted=wanted, now=NOW)
    given, plan = lots_of(two_panels), two_panels.blanket.plan()
    assert len(given) == 6
    assert set(given.values()) == {"A", "B"}
    touching = [*((one, other) for one in plan.places for other in plan.stands_on[one])]
    touching += [(Place(2, row), Place(3, row)) for row in (1, 2)]
    for one, other in touching:
        pair = {given[str(each)] for each in (one, other) if str(each) in given}
        assert len(pair) < 2, (one, other)


def test_a_square_in_hand_that_changes_its_colour_leaves_its_lot(
    cast: Cast, two_panels: Desk, lots: list[Yarn]
) -> None:
    choose(two_panels, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    two_panels.claim("A1", cast.vera)
    for name in ("Rose", "Navy"):
        places = {Place.parse("A1"): name}
        colour_squares(blanket=two_panels.blanket, by=cast.cora, colours=places, now=NOW)
        assert ("A1" in lots_of(two_panels)) is False
