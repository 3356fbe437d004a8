"""A colour plan stored, remade, and repaired around what somebody chose."""

from collections import Counter
from importlib import import_module
from typing import Any

import pytest
from django.apps import apps
from django.db import connection

from drives.actions.colours.by_hand import colour_squares
from drives.actions.colours.plans import Chosen, choose_colour, plan_colours, set_palette
from drives.actions.colours.refusals import no_colour_plan
from drives.craft.colours.plan import SearchGaveUp
from drives.craft.colours.wish import Pattern
from drives.craft.places import Place
from drives.models import Square, Yarn
from drives.readings.colour_plans import ColoursWanted, PaletteColour, colours_wanted, draft
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, places, refused, seams, twice
from tests.store import new_yarn

MOSS, RUST, CREAM = (
    PaletteColour("moss", "#6f7f3f", own=True),
    PaletteColour("rust", "#a9502b", own=True),
    PaletteColour("cream", "#f4e9cf", own=True),
)
BANDS = ColoursWanted((MOSS, RUST, CREAM), Pattern.BANDS, apart=True, margin=0)


def stored(*hues: str, **more: Any) -> ColoursWanted:
    """Of colours from the store."""
    palette = tuple(PaletteColour(name, "#6f7f3f") for name in hues)
    return BANDS._replace(palette=palette, **more)


def store(cast: Cast, **grams: int) -> None:
    """Yarns of a category of which a square of 20 stitches takes some thirteen grams."""
    for name, there in grams.items():
        new_yarn(cast.cora, there, colour=name, category=4)


def make(desk: Desk, cast: Cast, asked: ColoursWanted = BANDS) -> list[Place]:
    return plan_colours(blanket=desk.blanket, by=cast.cora, wanted=asked, now=NOW)


def choose(desk: Desk, name: str, colour: str, **more: Any) -> Chosen:
    return choose_colour(square=desk.square(name), colour=colour, **{"now": NOW} | more)


def colours(desk: Desk) -> dict[str, str]:
    return {str(square): square.colour for square in desk.blanket.squares.all()}


def apart(desk: Desk) -> bool:
    given, plan = colours(desk), desk.blanket.plan()
    return all(
        given[str(place)] != given[str(other)]
        for place in plan.places
        for other in plan.stands_on[place]
    )


def test_every_square_gets_its_colour(cast: Cast, plan: Plan) -> None:
    desk = plan()
    assert make(desk, cast) == list(places("A1 A2 B1 B2"))
    assert colours(desk) == {"A1": "moss", "B1": "rust", "A2": "rust", "B2": "cream"}
    assert (
        colours_wanted(desk.blanket) == BANDS._replace(margin=10)
        or colours_wanted(type(desk.blanket).objects.get()) == BANDS
    )
    assert desk.events()[-1].facts == {
        "squares": 4,
        "pattern": "bands",
        "colours": ["moss", "rust", "cream"],
    }


def test_the_same_plan_again_changes_nothing(cast: Cast, plan: Plan) -> None:
    desk = plan()
    twice(lambda: make(desk, cast))


def test_what_is_begun_or_chosen_keeps_its_colour(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    a1, c1 = places("A1 C1")
    colour_squares(blanket=desk.blanket, by=cast.cora, colours={a1: "plum", c1: "rust"}, now=NOW)
    desk.knit("A1", cast.vera)
    Square.objects.update(colour_fixed=False)
    make(desk, cast)
    assert colours(desk) == {"A1": "plum", "B1": "rust", "C1": "cream"}
    desk.claim("B1", cast.vera)
    make(desk, cast, BANDS._replace(palette=(CREAM, MOSS)))
    assert colours(desk) == {"A1": "plum", "B1": "rust", "C1": "cream"}


def test_a_colour_that_is_short_is_named_with_its_squares(cast: Cast, plan: Plan) -> None:
    desk = plan(4, 4)
    store(cast, moss=1000, rust=45)
    asked = stored("moss", "rust")
    detail = (
        "16 squares are to be coloured. As no two squares side by side may be alike, "
        "moss can take at most 8 of them. There is enough of rust for 3 squares. 5 squares short."
    )
    reasons = [{"code": "short", "detail": detail}]
    with refused("no-colour-plan", detail, reasons=reasons):
        make(desk, cast, asked)


def test_a_margin_leaves_less(cast: Cast, plan: Plan) -> None:
    desk = plan()
    store(cast, moss=100)
    rooms = [
        draft(desk.blanket, stored("moss", margin=margin)).rooms["moss"] for margin in (0, 100)
    ]
    assert rooms == [7, 3]


def test_squares_not_knitted_yet_still_take_of_the_store(cast: Cast, plan: Plan) -> None:
    """Six squares' yarn for six squares: what two of them are kept in is not there twice."""
    desk = plan(3, 2)
    store(cast, moss=1000)
    asked = stored("moss", apart=False)
    room = draft(desk.blanket, asked).rooms["moss"]
    assert room
    unit = 1000 / room
    Yarn.objects.update(grams=int(unit * 6.5))
    make(desk, cast, asked)
    desk.claim("A1", cast.vera)
    make(desk, cast, asked)
    Yarn.objects.update(grams=int(unit * 5.5))
    with pytest.raises(Refused, match=r"enough of moss for 4 squares\. 1 square short\."):
        make(desk, cast, asked)


def test_what_is_kept_may_itself_be_short(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1)
    store(cast, moss=1)
    a1 = Place.parse("A1")
    colour_squares(blanket=desk.blanket, by=cast.cora, colours={a1: "moss"}, now=NOW)
    detail = (
        "1 square to be knitted has moss for good. There is enough of moss for 0 squares. "
        "1 square short."
    )
    with refused("no-colour-plan", detail, reasons=[{"code": "short", "detail": detail}]):
        make(desk, cast, BANDS._replace(palette=(*stored("moss").palette, RUST)))


def test_yarn_of_which_nothing_is_known_is_taken_to_be_enough(cast: Cast, plan: Plan) -> None:
    desk = plan()
    new_yarn(cast.cora, 1, colour="moss")
    new_yarn(cast.cora, 1, colour="rust")
    asked = stored("moss", "rust")
    assert draft(desk.blanket, asked).unknown == ["moss", "rust"]
    assert len(make(desk, cast, asked)) == 4


def test_a_colour_that_is_not_in_the_store_is_none(cast: Cast, plan: Plan) -> None:
    with pytest.raises(Refused, match="enough of moss for 0 squares"):
        make(plan(1, 1), cast, stored("moss"))


def test_kept_squares_that_are_joined_and_alike_are_named(cast: Cast, plan: Plan) -> None:
    desk = plan()
    a1, b1 = places("A1 B1")
    both = {a1: "moss", b1: "moss"}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=both, now=NOW)
    detail = "A1 and B1 lie side by side, and both are moss."
    with refused("no-colour-plan", detail, reasons=[{"code": "kept-alike", "detail": detail}]):
        make(desk, cast)


def test_the_palette_can_be_noted_without_a_plan(cast: Cast, plan: Plan) -> None:
    desk = plan()
    assert (
        twice(lambda: set_palette(blanket=desk.blanket, by=cast.cora, wanted=BANDS, now=NOW))
        is False
    )
    assert set(colours(desk).values()) == {""}
    assert desk.verbs() == ["palette-set"]


def test_a_choice_repairs_the_plan_around_it(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    make(desk, cast)
    desk.claim("A1", cast.vera)
    before = colours(desk)
    chosen = twice(lambda: choose(desk, "A1", "rust", by=cast.vera))
    assert isinstance(chosen, Chosen)
    after = colours(desk)
    moved = [name for name in after if name != "A1" and after[name] != before[name]]
    assert after["A1"] == "rust"
    assert set(moved) == {"A2", "B1"}
    assert apart(desk)
    assert desk.square("A1").colour_fixed
    assert desk.events()[-1].facts == {
        "place": "A1",
        "member": cast.vera.pk,
        "colour": "rust",
        "changed": 2,
    }


def test_what_can_be_chosen_can_be_stored(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    make(desk, cast)
    desk.claim("A1", cast.vera)
    making = draft(desk.blanket, colours_wanted(desk.blanket))
    assert making.possible(Place.parse("A1")) == ["moss", "rust", "cream"]
    for name in ("cream", "moss", "rust"):
        choose(desk, "A1", name, by=cast.vera)
        assert apart(desk)


def test_a_choice_for_which_there_is_no_plan_is_refused(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1)
    store(cast, moss=15, rust=15)
    make(desk, cast, stored("moss", "rust"))
    desk.claim("A1", cast.vera)
    given = {Place.parse("B1"): colours(desk)["B1"]}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=given, now=NOW)
    assert Counter(colours(desk).values()) == {"moss": 1, "rust": 1}
    with pytest.raises(Refused) as no:
        choose(desk, "A1", "rust", by=cast.vera)
    assert no.value.detail == (
        "A1 cannot be rust. 2 squares to be knitted have rust for good. "
        "There is enough of rust for 1 square. 1 square short."
    )
    assert draft(desk.blanket, colours_wanted(desk.blanket)).possible(Place.parse("A1")) == ["moss"]


def test_own_yarn_is_for_ones_own_square_alone(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    make(desk, cast)
    desk.claim("A1", cast.vera)
    twice(lambda: choose(desk, "A1", "Sunset", value="#ff8800", by=cast.vera))
    assert colours_wanted(desk.blanket).palette[-1] == PaletteColour(
        "Sunset", "#ff8800", own=True, at_most=1
    )
    assert Counter(colours(desk).values())["Sunset"] == 1
    make(desk, cast, colours_wanted(desk.blanket))
    assert Counter(colours(desk).values())["Sunset"] == 1
    choose(desk, "A1", "moss", by=cast.vera)
    assert [hue.name for hue in colours_wanted(desk.blanket).palette] == ["moss", "rust", "cream"]


def test_more_of_ones_own_yarn(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3, seams=frozenset())
    make(desk, cast, BANDS._replace(apart=False))
    for name in ("A1", "B2"):
        choose(desk, name, "sunset", value="#ff8800", by=cast.cora)
    assert colours_wanted(desk.blanket).palette[-1] == PaletteColour(
        "sunset", "#ff8800", own=True, at_most=2
    )
    blank = {Place.parse("A1"): ""}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=blank, now=NOW)
    assert colours_wanted(desk.blanket).palette[-1].at_most == 1


def test_own_yarn_needs_a_name_of_its_own(cast: Cast, plan: Plan) -> None:
    desk = plan()
    store(cast, moss=1000, rust=1000)
    make(desk, cast, stored("moss", "rust"))
    desk.claim("A1", cast.vera)
    detail = (
        "The store’s “moss” is among the blanket’s colours; choose that one, "
        "or give your own yarn another name."
    )
    with refused("colour-is-there", detail):
        choose(desk, "A1", "Moss", value="#00ff00", by=cast.vera)


def test_who_may_choose(cast: Cast, plan: Plan) -> None:
    desk = plan()
    make(desk, cast)
    with refused("not-taken", "Nobody has A1 in hand; claim it first."):
        choose(desk, "A1", "rust", by=cast.vera)
    desk.claim("A1", cast.olga)
    with pytest.raises(Refused, match="A1 is in Olga’s hands"):
        choose(desk, "A1", "rust", by=cast.vera)
    assert choose(desk, "A1", "rust", by=cast.cora).square.colour == "rust"
    desk.finish("A1", cast.olga)
    with refused("already-finished", "A1 is finished, so its colour stays."):
        choose(desk, "A1", "moss", by=cast.cora)


def test_only_what_is_in_the_palette(cast: Cast, plan: Plan) -> None:
    desk = plan()
    empty = "The blanket has no colours yet; whoever organises it chooses them first."
    with refused("not-in-palette", empty, palette=[]):
        choose(desk, "A1", "rust", by=cast.cora)
    make(desk, cast)
    detail = "“plum” is none of the blanket’s colours. They are: moss, rust and cream."
    with refused("not-in-palette", detail, palette=["moss", "rust", "cream"]):
        choose(desk, "A1", "plum", by=cast.cora)


def test_finished_squares_cannot_be_painted(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1)
    make(desk, cast)
    desk.knit("A1", cast.vera)
    given = dict.fromkeys(places("A1 B1"), "cream")
    assert colour_squares(blanket=desk.blanket, by=cast.cora, colours=given, now=NOW) == [
        Place.parse("B1")
    ]
    assert [square.colour_fixed for square in desk.blanket.squares.all()] == [False, True]


def test_what_nobody_knows_of_a_finished_square_stands_against_nothing(
    cast: Cast, plan: Plan
) -> None:
    desk = plan(2, 1)
    desk.knit("A1", cast.vera)
    store(cast, moss=15)
    make(desk, cast, stored("moss"))
    assert colours(desk) == {"A1": "", "B1": "moss"}
    told = {Place.parse("A1"): "plum"}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=told, now=NOW)
    assert colours(desk)["A1"] == "plum"


def test_a_rule_that_is_broken_already_stands_against_no_choice(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    given = dict.fromkeys(places("B1 C1"), "moss")
    set_palette(blanket=desk.blanket, by=cast.cora, wanted=BANDS, now=NOW)
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=given, now=NOW)
    assert draft(desk.blanket, BANDS).possible(Place.parse("A1")) == ["rust", "cream"]
    assert choose(desk, "A1", "cream", by=cast.cora).others == ()
    with pytest.raises(Refused, match="A1 and B1 lie side by side, and both are moss"):
        choose(desk, "A1", "moss", by=cast.cora)


def test_a_search_without_an_end_says_so() -> None:
    refusal = no_colour_plan(SearchGaveUp())
    assert (refusal.code, refusal.facts) == ("colour-plan-gave-up", {})
    assert refusal.detail.startswith("No plan was found, and no proof that there is none")


SEAM = seams("A1-B1")


def test_a_seam_is_no_reason_to_be_alike_unless_somebody_says_so(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1, seams=SEAM)
    make(desk, cast)
    given = colours(desk)
    assert given["A1"] != given["B1"]
    alike = dict.fromkeys(places("A1 B1"), "moss")
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=alike, now=NOW)
    with pytest.raises(Refused, match="A1 and B1 lie side by side, and both are moss"):
        make(desk, cast)
    asked = BANDS._replace(over_seams=False)
    make(desk, cast, asked)
    desk.blanket.refresh_from_db()
    assert colours_wanted(desk.blanket) == asked


def test_a_choice_by_hand_minds_what_is_sewn_beside_it(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1, seams=SEAM)
    make(desk, cast)
    a1, b1 = places("A1 B1")
    colour_squares(blanket=desk.blanket, by=cast.cora, colours={b1: "rust"}, now=NOW)
    assert draft(desk.blanket, BANDS).possible(a1) == ["moss", "cream"]
    free = BANDS._replace(over_seams=False)
    assert draft(desk.blanket, free).possible(a1) == ["moss", "rust", "cream"]


def test_what_was_planned_before_stays_as_it_was_planned(cast: Cast, plan: Plan) -> None:
    """Until a blanket's plan is made anew with the rule."""
    sewn, without_seams, not_planned = plan(2, 1, seams=SEAM), plan(), plan(2, 1, seams=SEAM)
    for desk in (sewn, without_seams):
        make(desk, cast)
    migration = import_module("drives.migrations.0016_colours_over_seams")
    migration.as_it_was_planned(apps, connection.schema_editor())
    for desk, over_seams in ((sewn, False), (without_seams, True), (not_planned, True)):
        desk.blanket.refresh_from_db()
        assert desk.blanket.over_seams is over_seams
