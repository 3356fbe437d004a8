"""Colour plans a second time: the rules by hand, and OR-tools CP-SAT as the judge.

It shares with ``drives.craft`` only the words of questions and answers.
"""

from collections.abc import Mapping
from dataclasses import replace

from ortools.sat.python import cp_model

from drives.craft.colours.wish import Wish
from drives.craft.layout.layout import Layout
from drives.craft.places import Place

from . import reference


def joined(layout: Layout, over_seams: bool = True) -> set[tuple[Place, Place]]:
    """The pairs of squares that have a side, or a part of one, in common."""
    whole = replace(layout, seams=frozenset()) if over_seams else layout
    return {
        (support, place)
        for place, supports in reference.stands_on(whole).items()
        for support in supports
    }


def broken(layout: Layout, wish: Wish, colours: Mapping[Place, str]) -> list[str]:
    """The rules that ``colours`` of the squares not kept break, by name."""
    size = {square.at: square.size for square in reference.squares(layout)}
    whole = {**wish.kept, **colours}
    found = []
    if whole.keys() != size.keys() or colours.keys() & wish.kept.keys():
        found.append("each square once")
    for name, units in wish.colours.items():
        if units is not None and units < sum(
            size[place] ** 2 for place, own in colours.items() if own == name
        ):
            found.append(f"store of {name}")
    for name, most in wish.at_most.items():
        if list(whole.values()).count(name) > most:
            found.append(f"at most {most} of {name}")
    if not set(colours.values()) <= wish.colours.keys():
        found.append("a colour of the store")
    if any(colours[place] not in wish.allowed.get(place, wish.colours) for place in colours):
        found.append("allowed")
    pairs = joined(layout, wish.over_seams)
    if wish.apart and any(whole[one] == whole[other] for one, other in pairs):
        found.append("apart")
    return found


def possible(layout: Layout, wish: Wish, effort: float = 1.0) -> bool | None:
    """Whether CP-SAT finds a plan; None when it gives up (in its own deterministic time)."""
    model, _ = _model(layout, wish)
    return {
        cp_model.OPTIMAL: True,
        cp_model.FEASIBLE: True,
        cp_model.INFEASIBLE: False,
    }.get(_solver(effort).solve(model))


def some_plan(layout: Layout, wish: Wish) -> dict[Place, str] | None:
    """The plan that CP-SAT finds first."""
    model, has = _model(layout, wish)
    solver = _solver(1.0)
    if solver.solve(model) not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return None
    return {place: name for (place, name), var in has.items() if solver.boolean_value(var)}


def least_moved(layout: Layout, wish: Wish, effort: float = 1.0) -> int | None:
    """How many squares must have another colour than in ``wish.near``; None when it gives up."""
    model, has = _model(layout, wish)
    stays = [has[place, name] for place, name in wish.near.items() if (place, name) in has]
    model.maximize(sum(stays))
    solver = _solver(effort)
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return len(wish.near.keys() - wish.kept.keys()) - int(solver.objective_value)


def _solver(effort: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = effort
    return solver


Has = dict[tuple[Place, str], "cp_model.IntVar"]


def _model(layout: Layout, wish: Wish) -> tuple[cp_model.CpModel, Has]:
    size = {square.at: square.size for square in reference.squares(layout)}
    model = cp_model.CpModel()
    has: Has = {}
    its: dict[str, list[Place]] = {name: [] for name in [*wish.colours, *wish.kept.values()]}
    for place in size:
        own = wish.kept.get(place)
        names = wish.allowed.get(place, wish.colours) if own is None else [own]
        for name in names:
            has[place, name] = model.new_bool_var("")
            its[name].append(place)
        model.add_exactly_one([has[place, name] for name in names])
    for one, other in joined(layout, wish.over_seams) if wish.apart else ():
        for name in its:
            if (one, name) in has and (other, name) in has:
                model.add_at_most_one([has[one, name], has[other, name]])
    for name, units in wish.colours.items():
        if units is not None:
            free = [place for place in its[name] if place not in wish.kept]
            model.add(sum(size[place] ** 2 * has[place, name] for place in free) <= units)
    for name, most in wish.at_most.items():
        model.add(sum(has[place, name] for place in its[name]) <= most)
    return model, has
