"""How travelling pieces are passed on: the ways to do it, and a situation played by each."""

from collections.abc import Iterable
from dataclasses import replace
from enum import StrEnum

from .situation import Meetings, Situation, Travelling

MEET_EVERY = 14  # days, where a circle does not say how often it meets


class Passing(StrEnum):
    """When a piece goes to somebody else; the values are codes for rows, pages and API."""

    AFTER_EACH = "after-each"  # after each square, if somebody else waits
    KEEP = "keep"  # not before whoever has it can begin nothing more on it, or has left
    MEET = "meet"  # when the circle meets


class Step(StrEnum):
    """What is proposed to whoever has a piece; the values are codes for pages and API."""

    BEGIN = "begin"  # the next square on it
    FINISH = "finish"  # what is on the needles
    GIVE = "give"  # to the first in line


def next_step(passing: Passing, *, in_work: bool, can_begin: bool, waited_for: bool) -> Step | None:
    """What is proposed to whoever has a piece; None where there is nothing to do with it.

    ``in_work``: a square on it is on the needles. ``can_begin``: they can begin one on it.
    """
    keeps_on = passing == Passing.KEEP and (in_work or can_begin)
    if waited_for and not keeps_on:
        return Step.GIVE
    if in_work:
        return Step.FINISH
    return Step.BEGIN if can_begin else None


def meeting_days(known: Iterable[int], made: int, every: int | None) -> tuple[int, ...]:
    """The days, from today on and at least one, on which pieces change hands at meetings.

    ``known``: days of meetings, past ones too. Where none is still to come they are ``every`` so
    many days, counted from the last one, or from the day on which the drive was ``made``.
    """
    days = sorted(known)
    ahead = tuple(day for day in days if day >= 0)
    if not ahead:
        every = every or MEET_EVERY
        last = days[-1] if days else min(made, 0)
        first = last + every * max(-(last // every), 1)
        return (first, first + every)
    if len(ahead) == 1 and every:
        return (*ahead, ahead[0] + every)
    return ahead


def passed_by(mode: Travelling) -> Passing:
    """How pieces are passed on as things stand."""
    if mode.meetings:
        return Passing.MEET
    return Passing.AFTER_EACH if mode.turn else Passing.KEEP


def passing_on(mode: Travelling, passing: Passing, meetings: Meetings) -> Travelling:
    """The same with pieces passed on so; ``meetings`` are where they would change hands."""
    return replace(
        mode,
        turn=1 if passing == Passing.AFTER_EACH else None,
        meetings=meetings if passing == Passing.MEET else None,
    )


def with_passing(situation: Situation, passing: Passing, meetings: Meetings) -> Situation:
    """The same with pieces of the blanket passed on so; those of other blankets stay as they are.

    Meetings that are played already stay.
    """
    mode = situation.mode
    if not isinstance(mode, Travelling):
        return situation
    return replace(situation, mode=passing_on(mode, passing, mode.meetings or meetings))
