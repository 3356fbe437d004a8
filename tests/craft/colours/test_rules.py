"""Colour plans against OR-tools CP-SAT on random blankets, stores and kept squares."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drives.craft.colours.plan import (
    Coloured,
    Impossible,
    SearchGaveUp,
    colour_plan,
    still_possible,
)
from drives.craft.colours.reasons import Why
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from tests.craft import colour_reference
from tests.craft.layouts import drawn_by, grid_of, layouts
from tests.craft.wishes import exactly, wishes

often = settings(max_examples=60, derandomize=True, deadline=None)
seldom = settings(max_examples=15, derandomize=True, deadline=None)


@often
@given(st.data(), layouts(7))
def test_what_is_possible_is_found_and_what_is_not_is_proven(
    data: st.DataObject, layout: Layout
) -> None:
    wish = data.draw(wishes(layout))
    found = colour_plan(plan(layout), wish)
    assert not isinstance(found, SearchGaveUp)
    if isinstance(found, Coloured):
        assert colour_reference.broken(layout, wish, found.colours) == []
    else:
        assert colour_reference.possible(layout, nearly_enough(wish, found)) is not True


def nearly_enough(wish: Wish, found: Impossible) -> Wish:
    """The wish with one unit less than is said to be short, of any of the colours that are."""
    for reason in found.reasons:
        match reason.facts:
            case {"colours": [*_, str(name)], "short": int(short)} if reason.why is Why.SHORT:
                more = (wish.colours[name] or 0) + short - 1
                return replace(wish, colours={**wish.colours, name: more})
    return wish


@pytest.mark.parametrize("seed", range(8))
def test_stores_that_suffice_to_the_last_unit_are_found(seed: int) -> None:
    random = Random(seed)
    layout = Layout(12, 12, 20) if seed % 3 else drawn_by(random, 12)
    colours = random.randint(3, 6)
    wish = exactly(layout, random, colours) or exactly(layout, random, 6)
    assert wish is not None
    found = colour_plan(plan(layout), wish)
    assert isinstance(found, Coloured)
    assert colour_reference.broken(layout, wish, found.colours) == []


@seldom
@given(st.data(), layouts(5))
def test_a_volunteer_may_choose_what_can_still_be_completed(
    data: st.DataObject, layout: Layout
) -> None:
    planned = plan(layout)
    wish = data.draw(wishes(layout))
    found = colour_plan(planned, wish)
    assume(isinstance(found, Coloured) and found.colours)
    assert isinstance(found, Coloured)
    place = data.draw(st.sampled_from(sorted(found.colours)))
    offered = still_possible(planned, replace(wish, near=found.colours), place)
    allowed = wish.allowed.get(place, set(wish.colours))
    for name in wish.colours:
        only = replace(wish, allowed={**wish.allowed, place: {name} & set(allowed)})
        assert colour_reference.possible(layout, only) is (name in offered)


@pytest.mark.parametrize("seed", range(6))
def test_a_repair_changes_about_as_few_squares_as_can_be(seed: int) -> None:
    random = Random(seed)
    layout = Layout(8, 8, 20)
    planned = plan(layout)
    names = "red", "blue", "green", "white"
    wish = Wish(Pattern.BANDS, dict.fromkeys(names, 17))
    former = colour_plan(planned, wish)
    assert isinstance(former, Coloured)
    place, name = random.choice(planned.places), random.choice(names)
    chosen = Wish(
        Pattern.BANDS, {**wish.colours, name: 16}, kept={place: name}, near=former.colours
    )
    repaired = colour_plan(planned, chosen)
    assert isinstance(repaired, Coloured)
    assert colour_reference.broken(layout, chosen, repaired.colours) == []
    changed = [at for at, own in repaired.colours.items() if own != former.colours[at]]
    least = colour_reference.least_moved(layout, chosen)
    assert least is not None
    assert repaired.moved == len(changed) <= least + 2


@pytest.mark.parametrize("seed", range(4))
def test_where_alike_may_touch_no_square_moves_without_need(seed: int) -> None:
    random = Random(seed)
    layout = Layout(9, 7, 20)
    names = "red", "blue", "green", "white"
    bands = {at: names[(at.column + at.row - 2) % 4] for at in grid_of(9, 7)}
    store: dict[str, int | None] = {name: random.randint(12, 25) for name in names[:3]}
    wish = Wish(Pattern.BANDS, {**store, "white": None}, {"white": random.randint(28, 40)}, False)
    found = colour_plan(plan(layout), wish)
    assert isinstance(found, Coloured)
    assert found.moved == colour_reference.least_moved(layout, replace(wish, near=bands))
