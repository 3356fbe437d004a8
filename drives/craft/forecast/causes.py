"""What held a run up: its last chain, walked back from the square that was finished last."""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import Place

from .run import Run
from .situation import present


class Cause(StrEnum):
    """Why the days of the last chain could not be fewer; the values are codes for pages and API."""

    ORDER = "order"  # a square that the next one stands on was being knitted
    PIECE = "piece"  # the next one's piece was in other hands, and somebody had no work
    PEOPLE = "people"  # the next one could have been begun, but nobody was free
    HAND_OVER = "hand-over"  # a piece was on its way, or the next meeting was awaited
    REST = "pause"  # the next one could have been begun, but people rested between two squares
    ELSEWHERE = "elsewhere"  # whoever took the next one was knitting another blanket
    PERSON = "person"  # somebody was away, or slower than the knitter in the middle


class Blame(NamedTuple):
    """A cause, and the ``knitter`` (an index) or ``piece`` (its first place) that it is about."""

    cause: Cause
    knitter: int | None = None
    piece: Place | None = None


_ORDER, _PEOPLE = Blame(Cause.ORDER), Blame(Cause.PEOPLE)
_HAND_OVER, _REST, _ELSEWHERE = map(Blame, (Cause.HAND_OVER, Cause.REST, Cause.ELSEWHERE))


def blames(run: Run) -> dict[Blame, float]:
    """The days of a finished run, shared out among the causes: their sum is ``run.days``.

    A square's days count for what the next square of the chain waited for; those beyond the days
    that the knitter in the middle would have taken count for the person.
    """
    found: defaultdict[Blame, float] = defaultdict(float)
    prepared = run.prepared
    if not prepared.left:
        return found
    middle = prepared.situation.median_pace
    times = [run.ended[square] for square in run.order]
    mine = [square for square in run.order if square < prepared.left]
    square, blame = mine[-1], _ORDER
    while True:
        who, given, ended = run.who[square], run.given[square], run.ended[square]
        if square >= prepared.left:
            blame = _ELSEWHERE
        since, away = run.since(square), prepared.away[who]
        fair = present(since, ended, away) if away else ended - since
        fair *= min(1.0, middle / prepared.pace[who].median)
        found[blame] += fair
        if fair < ended - since:
            found[Blame(Cause.PERSON, knitter=prepared.people[who])] += ended - since - fair
        if since > given:
            found[_HAND_OVER] += since - given
        if given <= 0:
            return found
        before = _before(run, square, times)
        waited = given - (run.ended[before] if before is not None else 0.0)
        if waited:
            returned = any(returns == given for _, returns in away)
            person = Blame(Cause.PERSON, knitter=prepared.people[who])
            rested = (who, given) in run.rested
            found[_REST if rested else person if returned else _HAND_OVER] += waited
        if before is None:
            return found
        blame = _why(run, before, square)
        square = before


def _before(run: Run, square: int, times: list[float]) -> int | None:
    """What was finished at the moment when ``square`` was given out, and had to be.

    Where nothing was (somebody came back, or the circle met): what it had waited for last.
    """
    given = run.given[square]
    prepared = run.prepared
    first, last = bisect_left(times, given), bisect_right(times, given)
    if run.ended[square] == given:  # knitted at a meeting, in no time: never its own cause
        last = run.order.index(square, first, last)
    same_moment = run.order[first:last]
    for before in same_moment:
        if square in prepared.carries[before]:
            return before
    for before in same_moment:
        if (run.idle[before] or run.full[before]) and run.one_piece(before, square):
            return before
    for before in same_moment:
        if run.who[before] == run.who[square]:
            return before
    if same_moment:
        return same_moment[0]
    for before in reversed(run.order[:first]):
        if (
            square in prepared.carries[before]
            or run.one_piece(before, square)
            or run.who[before] == run.who[square]
        ):
            return before
    return None


def _why(run: Run, before: int, square: int) -> Blame:
    if square in run.prepared.carries[before]:
        return _ORDER
    if run.idle[before] or (run.full[before] and run.one_piece(before, square)):
        return Blame(Cause.PIECE, piece=run.prepared.first[run.prepared.piece[square]])
    return _PEOPLE
