"""Colours and dye lots planned together: against all plans of small blankets."""

from collections.abc import Iterator, Mapping
from itertools import product
from random import Random

import pytest

from drives.craft.colours.neighbours import neighbours
from drives.craft.colours.plan import Coloured, colour_plan
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.colours.with_lots import LotWish, lots_lie, plan_with_lots
from drives.craft.layout.layout import Large, Layout, Seam, problems
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay

from .test_lots import fits, keeps


def a_layout(luck: Random) -> Layout:
    columns, rows = luck.choice([(3, 2), (2, 3), (5, 1), (3, 3)])
    seams = set()
    if luck.random() < 0.7:
        at = luck.randint(1, columns - 1)
        seams = {Seam.between(Place(at, row), Place(at + 1, row)) for row in range(1, rows + 1)}
    large = {Large(Place(1, 1), 2)} if luck.random() < 0.5 or (columns, rows) == (3, 3) else set()
    made = Layout(columns, rows, 10, large=frozenset(large), seams=frozenset(seams))
    return made if not problems(made) else Layout(columns=3, rows=2, stitches=10)


class Case:
    """Navy in two lots, and rose, which may have two as well, with rooms that are often short."""

    def __init__(self, seed: int, way: LotWay) -> None:
        luck = Random(f"{way}-{seed}")
        self.plan = plan(a_layout(luck))
        units = sum(size**2 for size in self.plan.size.values())

        def room() -> int | None:
            return luck.choice([None, *(luck.randint(0, units) for _ in range(4))])

        lotted = ["navy", "rose"] if luck.random() < 0.4 else ["navy"]
        rooms = {name: {at: room() for at in (2 * n, 2 * n + 1)} for n, name in enumerate(lotted)}
        begun = {place: "navy" for place in self.plan.places[:2] if luck.random() < 0.3}
        chosen = {
            place: luck.choice(["navy", "rose"])
            for place in self.plan.places[2:]
            if luck.random() < 0.1
        }
        lots_kept = {place: luck.choice([0, 1, None]) for place in begun}
        self.lots = {
            name: LotWish(way, its, lots_kept if name == "navy" else {}, {})
            for name, its in rooms.items()
        }
        sums = {
            name: None if None in its.values() else sum(filter(None, its.values()))
            for name, its in rooms.items()
        } | ({} if "rose" in rooms else {"rose": room()})
        needed = {
            name: sum(self.plan.size[place] ** 2 for place, own in chosen.items() if own == name)
            for name in sums
        }
        self.short = any(each is not None and each < needed[name] for name, each in sums.items())
        self.wish = Wish(
            Pattern.BANDS,
            {name: None if each is None else each - needed[name] for name, each in sums.items()},
            apart=luck.random() < 0.4,
            over_seams=luck.random() < 0.5,
            kept={**begun, **chosen},
        )
        self.begun = begun

    def allowed(self, colours: Mapping[Place, str]) -> bool:
        """By the wish alone."""
        near = neighbours(self.plan, self.wish)
        if any(colours[one] == colours[two] for one in near for two in near[one]):
            return False
        used = dict.fromkeys(self.wish.colours, 0)
        for place, name in colours.items():
            if place not in self.wish.kept:
                used[name] += self.plan.size[place] ** 2
        return all(room is None or used[name] <= room for name, room in self.wish.colours.items())

    def every(self) -> Iterator[dict[Place, str]]:
        free = [place for place in self.plan.places if place not in self.wish.kept]
        for choice in product(self.wish.colours, repeat=len(free)):
            colours = {**self.wish.kept, **dict(zip(free, choice, strict=True))}
            if self.allowed(colours):
                yield colours

    def lie(self, colours: Mapping[Place, str]) -> bool:
        """Whether some choice of lots keeps the rules: all of them are tried."""
        for name, (way, rooms, kept, _near) in self.lots.items():
            free = [place for place, own in colours.items() if own == name and place not in kept]
            known = {place: lot for place, lot in kept.items() if lot is not None}
            if not any(
                keeps(self.plan, way, {**known, **given}, {*free}) and fits(self.plan, given, rooms)
                for choice in product(rooms, repeat=len(free))
                for given in [dict(zip(free, choice, strict=True))]
            ):
                return False
        return True


@pytest.mark.parametrize("way", list(LotWay))
def test_against_all_plans(way: LotWay) -> None:
    retried = none = 0
    for seed in range(400):
        case = Case(seed, way)
        if case.short:
            continue
        possible = any(case.lie(colours) for colours in case.every())
        found = plan_with_lots(case.plan, case.wish, case.lots)
        colours = {**case.wish.kept, **found.colours} if isinstance(found, Coloured) else {}
        assert bool(colours and case.lie(colours)) == possible, seed
        if colours:
            assert case.allowed(colours), seed
            assert lots_lie(case.plan, colours, case.lots) == possible, seed
        first = colour_plan(case.plan, case.wish)
        retried += possible and found != first
        none += not possible and isinstance(first, Coloured)
    assert retried > 10  # or else nothing was tried
    assert none > 5
