"""What a history tells: when something could be begun, who paused, who was silent, who meets."""

from math import inf

import pytest

from drives.craft.forecast.gatherings import gatherings
from drives.craft.forecast.history import History, Person, Spell
from drives.craft.forecast.seen import Between, Hands, seen
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place

ROW, SQUARE = plan(Layout(4, 1, 20)), plan(Layout(2, 2, 20))


def told(name: str, knitter: int, taken: float, ended: float = inf, finished: bool = True) -> Spell:
    return Spell(1, Place.parse(name), knitter, taken, ended, finished and ended < inf)


def of(*spells: Spell, people: int = 2, since: float = -100.0) -> History:
    return History([Person(since)] * people, spells, {1: ROW})


def hands(*spells: Spell, people: int = 2) -> list[Hands]:
    return seen(of(*spells, people=people))


def test_something_could_be_begun_from_an_end_to_the_next_taking() -> None:
    history = of(told("A1", 0, -20, -15), told("B1", 1, -12, -8), told("C1", 0, -8, -4))
    assert history.openings() == [(-15, -12), (-4, 0)]


def test_where_there_is_room_for_one_nothing_can_be_begun_beside_them() -> None:
    spells = [
        Spell(1, Place.parse("A1"), 0, -20, -15, finished=True),
        Spell(1, Place.parse("A2"), 0, -15, inf, finished=False),
    ]
    people = [Person(-30.0)] * 2
    assert History(people, spells, {1: SQUARE}).openings() == [(-15, 0)]
    assert History(people, spells, {1: SQUARE}, room={1: 1}).openings() == []


def test_a_square_that_was_given_back_can_be_begun_again() -> None:
    history = of(told("A1", 0, -20, -15, finished=False), told("A1", 1, -10))
    assert history.openings() == [(-15, -10)]


def test_a_pause_is_known_where_the_square_lay_ready() -> None:
    first, _ = hands(told("A1", 0, -20, -15), told("B1", 0, -12))
    assert first.rests == [Between(3, 3)]
    first, _ = hands(told("A1", 0, -20, -15), told("B1", 0, -15))
    assert first.rests == [Between(0, 0)]


def test_who_took_a_square_as_it_became_ready_may_have_rested_long_or_not() -> None:
    first, second = hands(told("A1", 0, -20, -15), told("B1", 1, -15, -10), told("C1", 0, -10))
    assert first.rests == [Between(-1, 5)]
    assert second.start == Between(-1, 5)  # since the circle began


def test_what_lay_ready_and_was_not_taken_tells_that_they_rested() -> None:
    first, _ = hands(told("A1", 0, -30, -25), told("B1", 1, -21, -15), told("C1", 0, -15), people=2)
    assert first.rests == [Between(4, 10)]


def test_who_is_silent_rests_at_least_as_long_as_something_could_be_taken() -> None:
    first, second = hands(told("A1", 0, -20, -15), told("B1", 1, -10))
    assert first.silent == 5
    assert second.silent is None
    first, _ = hands(told("A1", 0, -20, -15), told("B1", 1, -15))
    assert first.silent == -1  # nothing was there


def test_days_in_hand_are_exact_or_not_over() -> None:
    first, second = hands(told("A1", 0, -20, -15), told("B1", 1, -10))
    assert [work.days for work in first.works] == [Between(5, 5)]
    assert [work.days for work in second.works] == [Between(10, inf)]


def test_two_squares_in_the_same_hands_are_knitted_one_after_the_other() -> None:
    spells = [
        Spell(1, Place.parse("A1"), 0, -20, -14, finished=True),
        Spell(2, Place.parse("A1"), 0, -20, -10, finished=True),
    ]
    (one,) = seen(History([Person(-30.0)], spells))
    assert [work.days.high for work in one.works] == [6, 4]


def test_a_square_that_was_noted_when_it_was_finished_took_what_had_passed() -> None:
    first, _ = hands(told("A1", 0, -20, -15), told("B1", 0, -9, -9))
    assert [work.days.high for work in first.works] == [5, 6]
    assert first.rests == []


def test_days_away_are_neither_knitting_nor_pause() -> None:
    people = [Person(-30.0, away=[(-19.0, -17.0), (-14.0, -13.0)])]
    (one,) = seen(History(people, [told("A1", 0, -20, -15), told("B1", 0, -12)], {1: ROW}))
    assert one.works[0].days == Between(3, 3)
    assert one.rests == [Between(2, 2)]


def test_who_lost_every_race_was_hardly_there() -> None:
    takes = [told("A1", 0, -20, -15), told("B1", 1, -15, -10), told("C1", 0, -10, -5)]
    *_, third = hands(*takes, people=3)
    # Three times one of three who were free took it, and never this one.
    assert third.lost == pytest.approx((2 / 3) ** 3)
    assert third.start is None


def test_where_a_piece_travels_its_keeper_pauses_and_all_others_tell_nothing() -> None:
    spells = [told("A1", 0, -20, -15), told("B1", 0, -12, -8), told("C1", 1, -2)]
    first, second = seen(History([Person(-30.0)] * 2, spells, travelling=frozenset({1})))
    assert first.rests == [Between(3, 3)]
    assert (first.silent, second.start) == (-1, Between(-1, 18))


def test_blankets_are_chosen_as_often_as_there_was_a_choice() -> None:
    spells = [
        Spell(1, Place.parse("A1"), 0, -20, -15, finished=True),
        Spell(2, Place.parse("A1"), 0, -15, -10, finished=True),
        Spell(2, Place.parse("B1"), 0, -10, -5, finished=True),
        Spell(2, Place.parse("C1"), 0, -5, -1, finished=True),
    ]
    history = History([Person(-30.0)], spells, {1: ROW, 2: ROW})
    # The first time there was one, and at the second the other was not begun by anybody.
    one, other = history.shares([1, 2])
    assert one < other


@pytest.mark.parametrize(("every", "found"), [(7, 7), (14, 14), (28, 28)])
def test_a_circle_that_meets_is_known_by_its_days(every: int, found: int) -> None:
    spells = [
        told(name, 0, -4 * every + n * every + 0.8, -3 * every + n * every + 0.8)
        for n, name in enumerate(("A1", "B1", "C1"))
    ]
    gathered = gatherings(spells)
    assert gathered
    assert (gathered.every, gathered.past[-1]) == (found, -every)
    assert gathered.ahead(()) == (0, every)
    assert gathered.ahead((3, -9)) == (3,)


def test_who_knits_between_meetings_does_not_only_meet() -> None:
    assert gatherings([told("A1", 0, -20, -13), told("B1", 0, -13, -9), told("C1", 0, -6)]) is None
    assert gatherings([told("A1", 0, -14, -7)]) is None  # too little to say


def test_meetings_that_were_told_may_be_at_any_distance() -> None:
    spells = [told("A1", 0, -25, -19), told("B1", 0, -19, -11), told("C1", 0, -11, -3)]
    gathered = gatherings(spells, known=[-25, -19, -11, -3, 6])
    assert gathered
    assert gathered.ahead([-3, 6]) == (6,)


def test_days_among_those_who_only_meet_are_known_to_a_meeting() -> None:
    spells = [told("A1", 0, -21, -7), told("B1", 0, -7)]
    history = History([Person(-30.0)], spells, {1: ROW}, met=[-21.0, -14.0, -7.0])
    (one,) = seen(history)
    assert one.works[0].days == Between(7, 14)
