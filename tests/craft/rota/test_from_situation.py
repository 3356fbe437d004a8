"""From a blanket as it stands to what is to be shared out, and why somebody is to have it."""

from math import exp

import pytest
from hypothesis import given as whatever

from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Situation,
    Together,
    Travelling,
    Work,
)
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.craft.rota.from_situation import expected, task_of
from drives.craft.rota.rule import by_rule
from drives.craft.rota.search import by_rank, search
from drives.craft.rota.task import Planned
from drives.craft.rota.why import Why, given
from tests.craft.situations import cut, often, situations, steady

from .test_optimum import keeps_to_the_rules


def at(name: str) -> Place:
    return Place.parse(name)


@often
@whatever(situations(most=4))
def test_any_situation_can_be_shared_out(situation: Situation) -> None:
    task, places = task_of(situation)
    assert {*places} == {*situation.plan.places} - situation.finished
    assert {places[each.job] for each in task.begun} == {each.place for each in situation.in_hand}
    if situation.mode.at_once is None:
        for table in (by_rule(task), by_rank(task), search(task, 20, 1)):
            keeps_to_the_rules(task, table)
    else:  # in hand on one piece may be more than the task has room for: pieces may be one by then
        assert len(search(task, 20, 1).order) == len(task.open)


def test_the_expected_days_are_the_mean() -> None:
    assert expected(Days(4)) == 4
    assert expected(Days(4, 0.3, 0.4)) == pytest.approx(4 * exp(0.045))


def test_who_has_other_squares_in_hand_is_free_later() -> None:
    other = Work(plan(Layout(1, 1, 20)), Together(), in_hand=[InHand(at("A1"), 1, -1)])
    situation = Situation(
        plan(Layout(2, 1, 20)), [steady(4), steady(3)], Together(), others=[other]
    )
    task, _ = task_of(situation)
    assert [each.free for each in task.knitters] == [0, 2]
    assert by_rule(task).who[0] == 0


def test_several_in_one_hand_come_one_after_the_other() -> None:
    in_hand = [InHand(at("B1"), 0, -1), InHand(at("A2"), 0, 0)]
    situation = Situation(
        plan(Layout(2, 2, 20)), [steady(4)], Together(), frozenset({at("A1")}), in_hand
    )
    task, places = task_of(situation)
    assert {str(places[each.job]): each.ends for each in task.begun} == {"B1": 3, "A2": 7}


def test_a_square_held_for_long_is_expected_later_than_it_was() -> None:
    knitter = Knitter(Days(4, 0.5))
    for held, least in ((0, 4.0), (3, 1.0), (20, 0.5)):
        in_hand = [InHand(at("A1"), 0, -held)]
        situation = Situation(plan(Layout(1, 1, 20)), [knitter], Together(), in_hand=in_hand)
        (begun,) = task_of(situation)[0].begun
        assert least < begun.ends < 12


def test_who_is_gone_gets_nothing() -> None:
    situation = Situation(plan(Layout(3, 3, 20)), [steady(2), steady(9)], Together())
    task, _ = task_of(situation, gone={0})
    assert set(search(task, 30, 1).who) == {1}


def test_rests_lie_between_squares_of_one_knitter() -> None:
    situation = Situation(plan(Layout(3, 1, 20)), [steady(2)], Together())
    table = by_rule(task_of(situation, rest=1.5)[0])
    assert sorted(table.begin) == [0, 3.5, 7]
    assert by_rank(task_of(situation, rest=1.5)[0]).last == 9


def test_a_piece_goes_with_its_squares_and_it_is_said_who_hands_it_over() -> None:
    """Of two panels each stays with whoever has it; the third knitter would need a hand-over."""
    situation = Situation(
        cut(2, 3, 1),
        [steady(4), steady(4), steady(3.9)],
        Travelling(Days(30), turn=1),
        finished=frozenset({at("A1"), at("B1")}),
        holders={at("A1"): 0, at("B1"): 1},
    )
    task, places = task_of(situation)
    found = given(task, search(task, 50, 1), within=100)
    assert {(str(places[each.job]), each.who, each.why) for each in found} == {
        ("A2", 0, Why.PIECE), ("A3", 0, Why.PIECE), ("B2", 1, Why.PIECE), ("B3", 1, Why.PIECE),
    }  # fmt: skip
    assert {each.giver for each in found} == {None}
    alone, _ = task_of(situation, gone={0, 1})
    assert [each.giver for each in given(alone, search(alone, 0, 1), within=100)].count(0) == 1


def test_why_and_how_many_wait() -> None:
    situation = Situation(plan(Layout(3, 1, 20)), [steady(9), steady(2)], Together())
    task, _ = task_of(situation)
    table = search(task, 30, 1)
    found = given(task, table, within=100)
    assert [(each.why, each.waiting) for each in found] == [
        (Why.QUICK, 2),
        (Why.QUICK, 1),
        (Why.QUICK, 0),
    ]
    assert len(given(task, table, within=1)) == 1
    alike, _ = task_of(Situation(plan(Layout(2, 1, 20)), [steady(2)] * 2, Together()))
    assert {each.why for each in given(alike, search(alike, 9, 1), within=9)} == {Why.FREE}


def test_who_has_a_piece_keeps_it_where_pieces_are_not_passed_on() -> None:
    """Unless they are away: then anybody may have what is worked on it."""
    finished, holders = frozenset({at("A1")}), {at("A1"): 0}
    passed, kept = (Travelling(Days(1), turn=turn) for turn in (1, None))
    slow, quick = steady(9), steady(1)
    away = slow._replace(away=((0, 30),))
    for mode, people, who in (
        (passed, [slow, quick], {1}),
        (kept, [slow, quick], {0}),
        (kept, [away, quick], {1}),
    ):
        situation = Situation(plan(Layout(2, 2, 20)), people, mode, finished, holders=holders)
        assert set(search(task_of(situation)[0], 50, 1).who) == who


def test_who_is_barred_or_planned_for_is_heeded() -> None:
    situation = Situation(plan(Layout(2, 1, 20)), [steady(2), steady(9)], Together())
    barred, planned = {at("A1"): {0}}, {at("B1"): Planned(1, 20.0)}
    task, places = task_of(situation, gone={1}, barred=barred, planned=planned)
    table = search(task, 30, 1)
    assert {str(place): who for place, who in zip(places, table.who, strict=True)} == {
        "A1": 0,  # nobody else is there
        "B1": 1,
    }
    assert table.begin[places.index(at("B1"))] == 20
