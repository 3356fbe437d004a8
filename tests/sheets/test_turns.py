"""Whose sheet is made next: one circle's hundred do not hold another's."""

from datetime import timedelta

import pytest

from accounts.models import Member
from drives.actions.paper.sheets import (
    finish_sheet,
    put_back_sheet,
    request_sheet,
    take_next_sheet,
    take_sheet,
)
from drives.craft.layout.layout import Layout
from drives.models import Sheet
from drives.sheets.kinds import FORECAST, STATUS
from tests.cast import Cast, found, login
from tests.desk import NOW, Desk, new_blanket


@pytest.fixture
def other() -> Member:
    return found("Next door", login("Nora"))


def wanted(by: Member, desk: Desk, count: int, *, in_batch: bool = False) -> list[Sheet]:
    return [
        request_sheet(
            kind=FORECAST,
            blanket=desk.blanket,
            by=by,
            options={"pace": number},
            now=NOW,
            in_batch=in_batch,
        )
        for number in range(count)
    ]


def takes(messages: list[Sheet]) -> list[int]:
    """The sheets that are made when these messages come in, one worker for each."""
    taken = (take_next_sheet(sheet_id=sheet.pk, now=NOW) for sheet in messages)
    return [each.sheet.pk for each in taken if each]


def test_another_circles_label_is_made_second(cast: Cast, desk: Desk, other: Member) -> None:
    dear = wanted(cast.olga, desk, 6)
    theirs = new_blanket(other, Layout(2, 2, 20))
    label = request_sheet(kind=STATUS, blanket=theirs, by=other, options={}, now=NOW)

    made = takes([*dear, label])

    assert made[:2] == [dear[0].pk, label.pk]
    assert sorted(made) == sorted(sheet.pk for sheet in [*dear, label])


def test_circles_take_turns(cast: Cast, desk: Desk, other: Member) -> None:
    ours = wanted(cast.olga, desk, 4)
    theirs = wanted(other, Desk(new_blanket(other, Layout(2, 2, 20))), 2)

    made = takes([*ours, *theirs])

    assert made[:4] == [ours[0].pk, theirs[0].pk, ours[1].pk, theirs[1].pk]


def test_what_is_made_in_a_batch_does_not_take_the_place_of_what_is_waited_for(
    cast: Cast, desk: Desk, other: Member
) -> None:
    [batch] = wanted(other, Desk(new_blanket(other, Layout(2, 2, 20))), 1, in_batch=True)
    ours = wanted(cast.olga, desk, 2)

    assert takes(ours) == [sheet.pk for sheet in ours]
    assert takes([batch]) == [batch.pk]


def test_a_turn_of_a_clock_that_was_put_back_does_not_count(
    cast: Cast, desk: Desk, other: Member
) -> None:
    ours = wanted(cast.olga, desk, 2)
    theirs = wanted(other, Desk(new_blanket(other, Layout(2, 2, 20))), 2)
    for made, then in ((ours[0], NOW + timedelta(days=120)), (theirs[0], NOW)):
        taken = take_sheet(sheet_id=made.pk, now=then)
        assert taken
        finish_sheet(taken=taken, file="x", now=then)

    assert takes([theirs[1], ours[1]]) == [ours[1].pk, theirs[1].pk]


def test_a_message_too_many_finds_nothing_to_do(cast: Cast, desk: Desk) -> None:
    [sheet] = wanted(cast.olga, desk, 1)

    assert takes([sheet, sheet, sheet]) == [sheet.pk]


def test_what_went_wrong_is_not_taken_at_once_again(cast: Cast, desk: Desk) -> None:
    first, second = wanted(cast.olga, desk, 2)
    taken = take_sheet(sheet_id=first.pk, now=NOW)
    assert taken
    put_back_sheet(taken=taken, error="wrong")

    assert takes([second]) == [second.pk]
