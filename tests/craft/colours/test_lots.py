"""Dye lots placed: against all ways of small blankets, and by examples."""

from collections.abc import Mapping
from itertools import product
from random import Random

import pytest

from drives.craft.colours.lots import place_lots
from drives.craft.colours.task import Spent
from drives.craft.layout.layout import Large, Layout, Mitre, Seam, problems
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay


def touching(found: Plan) -> list[tuple[Place, Place]]:
    """Pairs of squares that lie side by side, by their units, sewn or joined."""
    of: dict[Place, Place] = {}
    for place in found.places:
        width = found.size[place]
        for right, up in product(range(width), repeat=2):
            of[Place(place.column + right, place.row + up)] = place
    pairs = set()
    for unit, place in of.items():
        for other in (Place(unit.column + 1, unit.row), Place(unit.column, unit.row + 1)):
            if other in of and of[other] != place:
                pairs.add((place, of[other]))
    return sorted(pairs)


def panels(found: Plan) -> dict[Place, Place]:
    """Of each square the first of its panel: those that joins lead to."""
    first = {place: place for place in found.places}
    for _ in found.places:
        for place in found.places:
            for other in found.stands_on[place]:
                first[place] = first[other] = min(first[place], first[other])
    return first


def keeps(found: Plan, way: LotWay, lots: Mapping[Place, int], free: set[Place]) -> bool:
    """Whether what is ``free`` keeps the rule; kept squares are forgiven what they have at odds."""
    if way is LotWay.NEVER_SIDE_BY_SIDE:
        pairs = touching(found)
    else:
        first = panels(found)
        pairs = [(one, two) for one in lots for two in lots if first[one] == first[two]]
    return all(
        lots[one] == lots[two]
        for one, two in pairs
        if one in lots and two in lots and (one in free or two in free)
    )


def fits(found: Plan, lots: Mapping[Place, int], rooms: Mapping[int, int | None]) -> bool:
    for lot, room in rooms.items():
        units = sum(found.size[place] ** 2 for place, own in lots.items() if own == lot)
        if room is not None and units > room:
            return False
    return True


def a_layout(luck: Random) -> Layout:
    columns, rows = luck.choice([(3, 3), (4, 2), (2, 4), (5, 2)])
    seams = set()
    if luck.random() < 0.7:
        at = luck.randint(1, columns - 1)
        seams = {Seam.between(Place(at, row), Place(at + 1, row)) for row in range(1, rows + 1)}
    large = {Large(Place(1, 1), 2)} if luck.random() < 0.3 else set()
    made = Layout(
        columns=columns, rows=rows, stitches=10, mitre=Mitre.PAIRED,
        large=frozenset(large), seams=frozenset(seams),
    )  # fmt: skip
    return made if not problems(made) else Layout(columns=columns, rows=rows, stitches=10)


@pytest.mark.parametrize("way", list(LotWay))
@pytest.mark.parametrize("seed", range(150))
def test_against_all_ways(way: LotWay, seed: int) -> None:
    luck = Random(f"{way}-{seed}")
    found = plan(a_layout(luck))
    own = [place for place in found.places if luck.random() < 0.7]
    kept = {place: luck.choice([1, 2]) for place in own if luck.random() < 0.15}
    squares = [place for place in own if place not in kept]
    units = sum(found.size[place] ** 2 for place in squares)
    lots = [1, 2, 3][: luck.choice([2, 2, 3])]
    rooms: dict[int, int | None] = {
        lot: luck.choice([None, luck.randint(0, units), luck.randint(0, units // 2 + 1)])
        for lot in lots
    }
    possible = any(
        keeps(found, way, {**kept, **dict(zip(squares, choice, strict=True))}, {*squares})
        and fits(found, dict(zip(squares, choice, strict=True)), rooms)
        for choice in product(lots, repeat=len(squares))
    )
    answer = place_lots(found, way, squares, rooms, kept=kept)
    assert (answer is not None) == possible
    if answer is not None:
        assert answer.keys() == {*squares}
        assert keeps(found, way, {**kept, **answer}, {*squares})
        assert fits(found, answer, rooms)


def test_a_former_answer_stays_where_it_can() -> None:
    found = plan(Layout(columns=4, rows=1, stitches=10))
    apart = [Place(1, 1), Place(3, 1)]
    former = {Place(1, 1): 2, Place(3, 1): 1}
    way = LotWay.NEVER_SIDE_BY_SIDE
    assert place_lots(found, way, apart, {1: 1, 2: 1}, near=former) == former
    assert place_lots(found, way, apart, {1: 2, 2: 0}, near=former) == dict.fromkeys(apart, 1)


def test_a_large_blanket_is_placed_soon() -> None:
    found = plan(Layout(columns=60, rows=60, stitches=10))
    squares = [place for place in found.places if (place.column + place.row) % 2]
    answer = place_lots(found, LotWay.NEVER_SIDE_BY_SIDE, squares, {1: 1000, 2: 800})
    assert answer is not None
    assert sorted(answer.values()).count(1) == 1000
    assert place_lots(found, LotWay.NEVER_SIDE_BY_SIDE, squares, {1: 1000, 2: 799}) is None


def test_it_gives_up_rather_than_looking_for_ever() -> None:
    found = plan(Layout(columns=9, rows=9, stitches=10))
    squares = [place for place in found.places if (place.column + place.row) % 2]
    with pytest.raises(Spent):
        place_lots(found, LotWay.NEVER_SIDE_BY_SIDE, squares, {1: 20, 2: 20}, most_cases=10)
