"""Random situations: whatever the luck, every run keeps the rules of the circle."""

from collections import defaultdict
from itertools import pairwise
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.causes import blames
from drives.craft.forecast.forecast import forecast, runs_of
from drives.craft.forecast.run import Knitted, Run
from drives.craft.forecast.situation import Situation, Together, Travelling, present
from drives.craft.places import Place
from tests.craft import reference
from tests.craft.situations import crowded, often, situations

seeds = st.integers(0, 10)


def one(situation: Situation, seed: int) -> tuple[Run, dict[Place, Knitted]]:
    (run,) = runs_of(situation, 1, seed)
    return run, {square.place: square for square in run.knitted()}


def kept_for(situation: Situation) -> dict[Place, int]:
    return {square.place: square.knitter for square in situation.in_hand}


def gone(situation: Situation, who: int, day: float) -> bool:
    return any(leaves <= day < returns for leaves, returns in situation.knitters[who].away)


@often
@given(situations(), seeds)
def test_everything_is_finished_each_square_after_those_it_stands_on(
    situation: Situation, seed: int
) -> None:
    run, found = one(situation, seed)
    assert found.keys() == set(situation.plan.places) - situation.finished
    assert run.days == max((square.ended for square in found.values()), default=0)
    for place, square in found.items():
        assert 0 <= square.given <= square.since
        assert square.since <= square.ended < inf
        for support in situation.plan.stands_on[place]:
            assert support in situation.finished or found[support].ended <= square.given


@often
@given(situations(), seeds)
def test_nobody_works_on_two_squares_at_once(situation: Situation, seed: int) -> None:
    _, found = one(situation, seed)
    by_knitter = defaultdict(list)
    for square in sorted(found.values(), key=lambda each: (each.given, each.ended)):
        by_knitter[square.knitter].append(square)
    for squares in by_knitter.values():
        for first, second in pairwise(squares):
            assert first.ended <= second.given


@often
@given(situations(), seeds)
def test_a_square_in_hand_stays_with_its_knitter(situation: Situation, seed: int) -> None:
    _, found = one(situation, seed)
    for place, who in kept_for(situation).items():
        assert found[place].knitter == who


@often
@given(situations(), seeds)
def test_never_more_people_on_a_piece_than_may_be(situation: Situation, seed: int) -> None:
    _, found = one(situation, seed)
    for moment in {square.given for square in found.values()}:
        begun = {place for place, square in found.items() if square.given <= moment}
        in_work = {place for place in begun if found[place].ended > moment}
        crowd = crowded(situation.plan.layout, begun | situation.finished, in_work)
        assert crowd <= (situation.mode.at_once or len(situation.knitters))


@often
@given(situations(), seeds)
def test_nothing_is_given_to_the_absent_and_nothing_finished_by_them(
    situation: Situation, seed: int
) -> None:
    _, found = one(situation, seed)
    at_start = kept_for(situation)
    for place, square in found.items():
        stretches = situation.knitters[square.knitter].away
        if place not in at_start or square.given > 0:
            assert not gone(situation, square.knitter, square.given)
        assert not any(leaves < square.ended < returns for leaves, returns in stretches)


@often
@given(situations(), seeds)
def test_together_nobody_is_idle_while_something_can_be_begun(
    situation: Situation, seed: int
) -> None:
    if not isinstance(situation.mode, Together):
        return
    _, found = one(situation, seed)
    layout, at_start = situation.plan.layout, kept_for(situation)
    boundaries = {
        day for knitter in situation.knitters for stretch in knitter.away for day in stretch
    }
    moments = {0.0, *boundaries} | {square.ended for square in found.values()}
    for moment in sorted(moment for moment in moments if moment >= 0):
        done = {place for place, square in found.items() if square.ended <= moment}
        done |= situation.finished
        in_work = {p for p, square in found.items() if square.given <= moment < square.ended}
        busy = {found[place].knitter for place in in_work}
        for place in found.keys() - done - in_work:
            able = {at_start[place]} if place in at_start else set(range(len(situation.knitters)))
            able = {who for who in able - busy if not gone(situation, who, moment)}
            if able and done.issuperset(situation.plan.stands_on[place]):
                with_it = in_work | {place}
                piece = next(
                    piece for piece in reference.pieces(layout, done | with_it) if place in piece
                )
                assert len(piece & with_it) > (situation.mode.at_once or inf)


@often
@given(situations(), seeds)
def test_travelling_pieces_are_in_hand_or_handed_over(situation: Situation, seed: int) -> None:
    mode = situation.mode
    if not isinstance(mode, Travelling) or mode.at_once > 1:
        return
    _, found = one(situation, seed)
    at_start = kept_for(situation)
    order = sorted(found.values(), key=lambda square: (square.given, square.ended))
    before: dict[Place, int | None] = dict.fromkeys(situation.finished)
    for square in order:
        begun_now = square.given == 0 and square.place in at_start
        supports = set(situation.plan.stands_on[square.place])
        givers: set[int | None] = set()
        for piece in reference.pieces(situation.plan.layout, set(before)):
            if piece & supports:
                hands = [before[p] for p in before if p in piece and before[p] is not None]
                listed = {situation.holders[p] for p in piece if p in situation.holders}
                # Several listed for one piece: nobody knows, and the run takes one of them.
                givers |= {hands[-1]} if hands else listed if len(listed) == 1 else set()
        foreign = givers - {square.knitter}
        if not begun_now:
            if foreign and mode.meetings is None:
                assert square.since > square.given
            elif foreign:
                assert mode.meetings
                assert square.given == pytest.approx(mode.meetings.after(square.given - 1e-6))
            if givers == {square.knitter}:
                assert square.since == square.given
        before[square.place] = square.knitter


@often
@given(situations(), seeds)
def test_the_same_seed_gives_the_same_runs(situation: Situation, seed: int) -> None:
    first, again = (
        [list(play.knitted()) for play in runs_of(situation, 2, seed)] for _ in range(2)
    )
    assert first == again


@often
@given(situations(), seeds)
def test_the_causes_add_up_to_the_days(situation: Situation, seed: int) -> None:
    run, _ = one(situation, seed)
    found = blames(run)
    assert sum(found.values()) == pytest.approx(run.days)
    assert all(days > 0 for days in found.values())
    shares = [held.share for held in forecast(situation, 2, seed).held_back]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(1 if shares else 0)


@often
@given(situations(), seeds)
def test_a_steady_knitter_works_the_days_of_the_pace(situation: Situation, seed: int) -> None:
    _, found = one(situation, seed)
    layout, at_start = situation.plan.layout, kept_for(situation)
    units = {square.at: square.size for square in reference.squares(layout)}
    per_unit = defaultdict(set)
    for place, square in found.items():
        knitter = situation.knitters[square.knitter]
        if place not in at_start and not knitter.pace.spread and units[place] == 1:
            worked = present(square.since, square.ended, knitter.away)
            per_unit[square.knitter].add(round(worked, 6))
    assert all(len(days) == 1 for days in per_unit.values())
