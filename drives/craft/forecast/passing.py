"""How travelling pieces are passed on: the ways to do it, and a situation played by each."""

from dataclasses import replace
from enum import StrEnum

from .situation import Meetings, Situation, Travelling

MEET_EVERY = 14  # days, where a circle asks what meetings would bring


class Passing(StrEnum):
    """When a piece goes to somebody else; the values are codes for rows, pages and API."""

    AFTER_EACH = "after-each"  # after each square, if somebody else waits
    KEEP = "keep"  # not before whoever has it can begin nothing more on it, or has left
    MEET = "meet"  # when the circle meets


def passed_by(mode: Travelling) -> Passing:
    """How pieces are passed on as things stand."""
    if mode.meetings:
        return Passing.MEET
    return Passing.AFTER_EACH if mode.turn else Passing.KEEP


def with_passing(situation: Situation, passing: Passing) -> Situation:
    """The same with pieces of the blanket passed on so; those of other blankets stay as they are.

    Meetings that are known stay, others are every ``MEET_EVERY`` days.
    """
    mode = situation.mode
    if not isinstance(mode, Travelling):
        return situation
    first = float(MEET_EVERY)
    meetings = mode.meetings or Meetings((first, 2 * first))
    return replace(
        situation,
        mode=replace(
            mode,
            turn=1 if passing == Passing.AFTER_EACH else None,
            meetings=meetings if passing == Passing.MEET else None,
        ),
    )
