"""One blanket: its layout, squares, claims, pieces and log must tell one story."""

from collections.abc import Iterator

from drives.craft.layout.layout import InvalidLayout
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import LIMIT, NoPlace, Place
from drives.models import Blanket, Ending, StoredState
from drives.words.layout import problem_words
from drives.words.places import no_place

from .fabrics import audit_fabrics
from .finding import Finding
from .hand_overs import audit_hands
from .rows import Rows


class _NoPlan(Exception):
    """The layout cannot be read or knitted; the message says why."""


def audit_blanket(blanket: Blanket) -> Iterator[Finding]:
    rows = Rows.of(blanket)
    try:
        planned = _planned(rows)
    except _NoPlan as problem:
        yield rows.finding(f"its layout is no layout. {problem}")
        return
    yield from _places(rows, planned)
    for place in planned.places:
        if place in rows.squares:
            yield from _supports(rows, planned, place)
            yield from _claims(rows, place)
            yield from _knitter(rows, place)
            yield from _log(rows, place)
    yield from _rota(rows)
    yield from audit_fabrics(rows, planned)
    yield from audit_hands(rows, planned)


def _planned(rows: Rows) -> Plan:
    """The plan from the rows as they are: nothing that a process remembers counts here."""
    blanket = rows.blanket
    if max(blanket.columns, blanket.rows) > LIMIT:
        raise _NoPlan("The grid is larger than the largest.")
    sizes = {place: square.size for place, square in rows.squares.items()}
    try:
        return plan(blanket.layout_with(sizes, blanket.seams))
    except InvalidLayout as invalid:
        raise _NoPlan(" ".join(map(problem_words, invalid.problems))) from invalid
    except NoPlace as problem:
        raise _NoPlan(f"It cannot be read: {no_place(problem)}") from problem
    except (TypeError, ValueError) as problem:
        raise _NoPlan(f"It cannot be read: {problem}") from problem


def _places(rows: Rows, planned: Plan) -> Iterator[Finding]:
    for place in sorted(rows.squares.keys() - planned.size.keys()):
        yield rows.finding("there is no room for this square in the layout.", [place])


def _supports(rows: Rows, planned: Plan, place: Place) -> Iterator[Finding]:
    square = rows.squares[place]
    unfinished = [
        support
        for support in planned.stands_on[place]
        if rows.squares[support].state != StoredState.FINISHED
    ]
    if square.unmet != len(unfinished):
        what = f"unmet is {square.unmet}, but it waits for {len(unfinished)}."
        yield rows.finding(what, [place])
    if unfinished and square.state != StoredState.OPEN:
        waits = ", ".join(map(str, unfinished))
        yield rows.finding(f"it is {square.state}, but stands on unfinished {waits}.", [place])


def _claims(rows: Rows, place: Place) -> Iterator[Finding]:
    square = rows.squares[place]
    held = [claim for claim in rows.claims[place] if claim.ended_at is None]
    if square.state == StoredState.TAKEN and not held:
        yield rows.finding("it is taken, but there is no open claim.", [place])
    if square.state != StoredState.TAKEN and held:
        yield rows.finding(f"it is {square.state}, but there is an open claim.", [place])
    most = 2 * square.size * rows.blanket.stitches
    for claim in rows.claims[place]:
        if claim.rows_done > most:
            what = f"the row counter is at {claim.rows_done}, but there are {most} rows."
            yield rows.finding(what, [place])


def _knitter(rows: Rows, place: Place) -> Iterator[Finding]:
    square = rows.squares[place]
    if square.knitter is None:
        return
    worked = [claim for claim in rows.claims[place] if claim.ending == Ending.FINISHED]
    if not worked or worked[-1].member_id != square.knitter_id:
        what = f"no claim ended with {square.knitter} finishing it."
        yield rows.finding(what, [place])


def _log(rows: Rows, place: Place) -> Iterator[Finding]:
    state, logged = rows.squares[place].state, rows.logged.get(str(place), StoredState.OPEN)
    if state != logged:
        yield rows.finding(f"it is {state}, but {logged} by the log.", [place])


def _rota(rows: Rows) -> Iterator[Finding]:
    for place in sorted(each for each in rows.planned if str(each) not in rows.told):
        yield rows.finding("the rota has it as accepted or refused, but the log does not.", [place])
