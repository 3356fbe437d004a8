"""The soonest end against OR-tools, and what any timetable must keep to, counted again."""

from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from drives.craft.forecast.situation import Meetings, after
from drives.craft.rota.exact import soonest
from drives.craft.rota.rule import by_rule
from drives.craft.rota.search import CASES, WORTH_IT, by_rank, search
from drives.craft.rota.task import Hands, Job, Planned, Task
from drives.craft.rota.timetable import WEIGHT, Timetable, cases, cost, lopsided, timetable, waiting

from .tasks import tasks

many = settings(max_examples=120, derandomize=True, deadline=None)
some = settings(max_examples=50, derandomize=True, deadline=None)


def optimum(task: Task, within: float) -> int:
    """The soonest end of all, by a model of its own: who has which job, and when.

    The solver need not look beyond ``within``, and fails where nothing ends so soon.
    """
    model = cp_model.CpModel()
    far = int(within)
    fixed = {each.job: each for each in task.begun}
    begins, ends, has = {}, {}, {}
    on_needles: dict[int, list[cp_model.IntervalVar]] = {who: [] for who in range(len(task.days))}
    on_piece: dict[int, list[cp_model.IntervalVar]] = {at: [] for at in range(len(task.holders))}
    for number, job in enumerate(task.jobs):
        begin, end = model.new_int_var(0, far, ""), model.new_int_var(0, far, "")
        begins[number], ends[number] = begin, end
        length = model.new_int_var(0, far, "")
        whole = model.new_interval_var(begin, length, end, "")
        for piece in job.pieces:
            on_piece[piece].append(whole)
        for who, hands in enumerate(task.knitters):
            mine = has[number, who] = model.new_bool_var("")
            on_needles[who].append(model.new_optional_interval_var(begin, length, end, mine, ""))
            if number in fixed:
                continue
            pairs = [
                (start, int(after(start, hands.days * job.units, hands.away)))
                for start in range(far)
                if not any(leaves <= start < returns for leaves, returns in hands.away)
            ]
            pairs = [pair for pair in pairs if pair[1] <= far]
            model.add_allowed_assignments([begin, end], pairs).only_enforce_if(mine)
        model.add_exactly_one(has[number, who] for who in range(len(task.knitters)))
        for who in range(len(task.knitters)):
            if number not in fixed and who not in task.able[number]:
                model.add(has[number, who] == 0)
        for support in job.stands_on:
            model.add(begin >= ends[support])
        if number in fixed:
            model.add(begin == 0)
            model.add(end == int(fixed[number].ends))
            model.add(has[number, fixed[number].knitter] == 1)
    for each in on_needles.values():
        model.add_no_overlap(each)
    for each in on_piece.values():
        model.add_cumulative(each, [1] * len(each), task.room)
    if task.passing:
        add_passing(model, task, int(task.passing.days), begins, ends, has)
    for number, (who, day) in task.planned.items():
        add_planned(model, task, number, who, day, (begins, on_needles))
    if task.meets:
        add_meetings(model, task, far, begins, ends, has)
    last = model.new_int_var(0, far, "")
    model.add_max_equality(last, list(ends.values()))
    model.minimize(last)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


def add_planned(
    model: cp_model.CpModel, task: Task, number: int, who: int, day: float, rest: Any
) -> None:
    """Its days are kept: of its knitter's other squares none lies on them."""
    begins, on_needles = rest
    hands = task.knitters[who]
    first = max([day, *(each.ends for each in task.begun if each.knitter == who)])
    first = next((back for leaves, back in hands.away if leaves <= first < back), first)
    last = after(first, hands.days * task.jobs[number].units, hands.away)
    model.add(begins[number] >= int(first))
    kept = model.new_fixed_size_interval_var(int(first), int(last - first), "")
    begun = {each.job for each in task.begun}
    others = [
        each for job, each in enumerate(on_needles[who]) if job != number and job not in begun
    ]
    model.add_no_overlap([*others, kept])


def add_meetings(
    model: cp_model.CpModel,
    task: Task,
    far: int,
    begins: dict[int, cp_model.IntVar],
    ends: dict[int, cp_model.IntVar],
    has: dict[tuple[int, int], cp_model.IntVar],
) -> None:
    """Taken and brought at meetings alone, and no more at once in one's hands than the limit."""
    meets = task.meets
    assert meets
    days = [int(meets.after(-0.5))]
    while days[-1] < far:
        days.append(int(meets.after(days[-1])))
    noted = [(end, next(day for day in days if day >= end)) for end in range(far + 1)]
    fixed = {each.job for each in task.begun}
    in_hands: dict[int, list[cp_model.IntervalVar]] = {who: [] for who in range(len(task.days))}
    brought = {}
    for job in range(len(task.jobs)):
        brought[job] = model.new_int_var(0, days[-1], "")
        model.add_allowed_assignments([ends[job], brought[job]], noted)
        taken = model.new_int_var_from_domain(cp_model.Domain.from_values([0, *days]), "")
        if job in fixed:
            model.add(taken == 0)
        else:
            model.add_allowed_assignments([taken], [(day,) for day in days])
            model.add(begins[job] >= taken)
            for support in task.jobs[job].stands_on:
                model.add(taken >= brought[support])
        length = model.new_int_var(0, days[-1], "")
        for who, mine in in_hands.items():
            mine.append(
                model.new_optional_interval_var(taken, length, brought[job], has[job, who], "")
            )
    for mine in in_hands.values():
        model.add_cumulative(mine, [1] * len(mine), task.limit)


def add_passing(
    model: cp_model.CpModel,
    task: Task,
    days: int,
    begins: dict[int, cp_model.IntVar],
    ends: dict[int, cp_model.IntVar],
    has: dict[tuple[int, int], cp_model.IntVar],
) -> None:
    """Whoever works on a piece behind somebody else waits for it to come, at first too."""
    fixed = {each.job for each in task.begun}
    for piece, holder in enumerate(task.holders):
        on_it = [number for number, job in enumerate(task.jobs) if piece in job.pieces]
        for one in on_it:
            for who in range(len(task.knitters)):
                if holder not in (None, who) and one not in fixed and not fixed & {*on_it}:
                    model.add(begins[one] >= days).only_enforce_if(has[one, who])
            for other in on_it:
                if one >= other:
                    continue
                first = model.new_bool_var("")
                for before, then, so in ((one, other, first), (other, one, first.negated())):
                    model.add(begins[then] >= ends[before]).only_enforce_if(so)
                    for who in range(len(task.knitters)):
                        moved = [so, has[then, who], has[before, who].negated()]
                        model.add(begins[then] >= ends[before] + days).only_enforce_if(moved)


def keeps_to_the_rules(task: Task, table: Timetable) -> None:
    begun = {each.job for each in task.begun}
    assert sorted(table.order) == task.open
    for job in task.open:
        _, stands_on, pieces, _ = task.jobs[job]
        who, begin, end = table.who[job], table.begin[job], table.end[job]
        assert who in task.able[job]
        if job in task.planned:
            assert (who, begin) >= (task.planned[job].knitter, task.planned[job].day)
        assert end == after(begin, task.days[who][job], task.knitters[who].away)
        assert not any(leaves <= begin < back for leaves, back in task.knitters[who].away)
        assert all(table.end[support] <= begin for support in stands_on)
        others = [each for each in range(len(task.jobs)) if each != job]
        at_once = [each for each in others if table.begin[each] <= begin < table.end[each]]
        assert all(table.who[each] != who for each in at_once)
        for piece in pieces:
            on_it = [each for each in others if piece in task.jobs[each].pieces]
            assert len([each for each in on_it if each in at_once]) < task.room
            before = [each for each in on_it if table.end[each] <= begin]
            if task.passing:
                last = max(before, key=lambda each: table.end[each], default=None)
                holder = task.holders[piece] if last is None else table.who[last]
                free = 0.0 if last is None else table.end[last]
                if holder not in (None, who):
                    assert begin >= task.passing.there(free)
    assert all(table.end[each.job] == each.ends for each in task.begun)
    assert begun.isdisjoint(table.order)


@many
@given(tasks())
def test_branch_and_bound_finds_what_the_solver_finds(task: Task) -> None:
    found = soonest(task, by_rule(task), most=10**6)
    assert found.proved
    assert found.table.last == optimum(task, found.table.last)
    keeps_to_the_rules(task, found.table)


@some
@given(tasks(most=12, people=4), st.integers(0, 3))
def test_the_search_keeps_to_the_rules_and_is_never_worse_than_the_rule(
    task: Task, seed: int
) -> None:
    rule, ranked = by_rule(task), by_rank(task)
    keeps_to_the_rules(task, rule)
    keeps_to_the_rules(task, ranked)
    lucks = cases(task, CASES, Random(seed))
    worth = cost(task, rule, lucks).late
    for steps in (0, 30, 120):
        found = search(task, steps, seed)
        assert found == search(task, steps, seed)
        keeps_to_the_rules(task, found)
        assert cost(task, found, lucks).late <= worth


@some
@given(tasks(most=8))
def test_of_few_squares_nothing_that_is_worth_it_is_sooner(task: Task) -> None:
    last = search(task, 0, 1).last
    assert last - optimum(task, last) <= WORTH_IT * last + 0.01


def test_waiting_is_shared_where_it_costs_nothing() -> None:
    """Six squares for two who knit alike and one who would get nothing by the longest chain."""
    task = Task([Job(1.0) for _ in range(6)], [Hands(2.0)] * 3)
    assert sorted(waiting(task, search(task, 100, 1))) == [0, 0, 0]
    one = Task([Job(2.0), Job(1.0), Job(1.0)], [Hands(2.0)] * 3)
    fair, unfair = (timetable(one, [0, 1, 2], who) for who in ([0, 1, 2], [0, 1, 1]))
    assert (fair.last, unfair.last) == (4, 4)
    assert cost(one, fair).unfair < cost(one, unfair).unfair


def test_beyond_the_wanted_day_every_day_weighs_more() -> None:
    jobs, hands = [Job(1.0), Job(1.0)], [Hands(4.0)]
    in_time, late = Task(jobs, hands, wanted=9), Task(jobs, hands, wanted=7)
    table = by_rule(late)
    assert cost(in_time, table).late == 8
    assert cost(late, table).late == 8 + WEIGHT


def test_what_is_planned_is_begun_on_its_day_and_nothing_comes_in_its_way() -> None:
    """Two days are free before it: one square fits there, and one that takes longer comes after."""
    jobs = [Job(1.0), Job(1.5), Job(1.0)]
    task = Task(jobs, [Hands(2.0)], planned={0: Planned(0, 2.0)})
    table = search(task, 50, 1)
    assert (table.begin[0], table.end[0]) == (2, 4)
    assert sorted(table.begin) == [0, 2, 4]
    assert table.begin[1] == 4
    late = Task([Job(3.0), Job(1.0, (0,))], [Hands(2.0)] * 2, planned={1: Planned(0, 2.0)})
    assert search(late, 50, 1).begin[1] == 6


def test_within_the_limit_a_square_is_taken_ahead_at_a_meeting() -> None:
    jobs, hands = [Job(1.0), Job(1.0)], [Hands(4.0)]
    for limit, last in ((1, 11.0), (2, 8.0)):
        task = Task(jobs, hands, meets=Meetings((0.0, 7.0)), limit=limit)
        assert search(task, 10, 1).last == last


def test_nobody_gets_all_the_waiting_where_that_costs_nothing() -> None:
    """A chain that one of two could knit alone: the measure is the longest wait of the mean one."""
    jobs = [Job(1.0, (number - 1,) if number else ()) for number in range(6)]
    task = Task(jobs, [Hands(3.0, spread=0.3), Hands(3.0, spread=0.3)])
    assert lopsided(task, by_rule(task)) == 2.0
    found = search(task, 200, 1)
    assert found.last == by_rule(task).last
    assert lopsided(task, found) == 1.0


def test_the_plan_that_is_in_time_most_often_is_taken() -> None:
    """The quick one is quick on average only: in four of five cases the steady one is in time."""
    task = Task([Job(1.0)], [Hands(4.0), Hands(4.2)], wanted=5.0)
    draws = [[[3.0], [4.5]], *([[6.0], [4.5]] for _ in range(4))]
    assert search(task, 30, 1).who == [0]
    assert search(task, 30, 1, draws).who == [1]
