"""Changing a layout: free where nothing is begun, and begun squares stay what they are."""

from dataclasses import replace

import pytest

from drives.actions.drives.blankets import change_layout
from drives.audit import audit
from drives.craft.layout.layout import InvalidLayout, Large, Layout, Mitre, Seam
from drives.craft.places import Place
from drives.models import Blanket
from tests.cast import Cast
from tests.conftest import Plan, forget
from tests.desk import NOW, Desk, nothing_changes, places, refused

THREE = Layout(3, 3, 20)


def change(desk: Desk, cast: Cast, layout: Layout) -> Blanket:
    return change_layout(blanket=desk.blanket, by=cast.olga, layout=layout, now=NOW)


def without(names: str) -> Layout:
    return replace(THREE, missing=frozenset(places(names)))


def test_a_change_is_a_new_version_and_one_event(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    changed = change(desk, cast, without("C3 B1"))
    assert changed.layout_version == 2
    assert Blanket.objects.get().layout() == without("C3 B1")
    (event,) = desk.events()
    assert (event.verb, event.by, event.facts) == (
        "layout-changed",
        cast.olga,
        {"version": 2, "added": 0, "removed": 2},
    )


def test_squares_that_lose_or_gain_a_support_are_counted_again(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    change(desk, cast, without("B1"))
    assert desk.unmet() == {"A1": 0, "C1": 0, "A2": 0, "B2": 1, "C2": 2, "A3": 1, "B3": 2, "C3": 2}
    change(desk, cast, THREE)
    assert desk.unmet()["B1"] == 0
    assert (desk.unmet()["C1"], desk.unmet()["B2"]) == (1, 2)
    assert desk.verbs()[-1] == "layout-changed"
    assert list(audit()) == []


def test_a_seam_is_a_support_less(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    change(desk, cast, replace(THREE, seams=frozenset({Seam(*places("A1 B1"))})))
    assert (desk.unmet()["B1"], desk.unmet()["B2"]) == (0, 2)
    desk.claim("B1", cast.vera)


def test_a_large_square_takes_the_place_of_four(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    change(desk, cast, replace(THREE, large=frozenset({Large(Place.parse("B2"), 2)})))
    assert desk.unmet() == {"A1": 0, "B1": 1, "C1": 1, "A2": 1, "A3": 1, "B2": 4}
    assert desk.events()[-1].facts == {"version": 2, "added": 1, "removed": 4}


def test_the_grid_can_grow_and_shrink_where_nothing_is_begun(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    change(desk, cast, Layout(2, 5, 20))
    assert len(desk.unmet()) == 10
    assert desk.states() == {"A1": "finished"}
    desk.knit("A2", cast.vera)


@pytest.mark.parametrize(
    ("layout", "named"),
    [
        (without("B1"), "B1"),  # it is taken
        (without("A1"), "A1 and B1"),  # B1 would stand on nothing
        (replace(THREE, stitches=22), "A1 and B1"),
        (replace(THREE, mitre=Mitre.CENTRED), "A1 and B1"),
        (replace(THREE, seams=frozenset({Seam(*places("A1 B1"))})), "B1"),
        (replace(THREE, large=frozenset({Large(Place.parse("A1"), 2)})), "A1 and B1"),
        (replace(THREE, corner_trade=False), "B1"),
        (Layout(1, 3, 20), "B1"),
    ],
)
def test_begun_squares_cannot_be_disturbed(
    cast: Cast, plan: Plan, layout: Layout, named: str
) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    with refused(
        "squares-begun",
        f"The layout can change only where nothing is begun; this would change {named}.",
        places=named.split(" and "),
    ):
        change(desk, cast, layout)


def test_a_square_cannot_be_put_under_a_begun_one(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 2, missing=frozenset(places("A1")))
    desk.claim("A2", cast.vera)
    with refused(
        "squares-begun",
        "The layout can change only where nothing is begun; this would change A2.",
        places=["A2"],
    ):
        change(desk, cast, Layout(2, 2, 20))


def test_a_square_that_was_given_back_or_ripped_is_free_again(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    desk.knit("A1 B1", cast.vera)
    desk.claim("C1", cast.vera)
    desk.give_back("C1", cast.vera)
    desk.rip_back("B1", cast.cora)
    change(desk, cast, without("B1 C1"))
    assert desk.states() == {"A1": "finished"}
    assert list(audit()) == []


def test_a_layout_that_cannot_be_knitted_changes_nothing(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3)
    with nothing_changes(), pytest.raises(InvalidLayout, match="large-overlap"):
        change(
            desk,
            cast,
            replace(
                THREE,
                large=frozenset({Large(Place.parse("A1"), 2), Large(Place.parse("B2"), 2)}),
            ),
        )


def test_a_blanket_read_before_the_change_plans_anew_when_its_layout_is_gone(
    cast: Cast, plan: Plan
) -> None:
    desk = plan(3, 3)
    before = Blanket.objects.get()
    change(desk, cast, without("C3"))
    forget()  # as in another process, which has not planned the old layout
    assert Place.parse("C3") not in before.plan().size
