"""What a coordinator says to the rota: a proposal to its knitter, and no claim."""

from collections.abc import Sequence
from datetime import date, datetime

from accounts.actions.members import require_present
from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_blanket, hold_squares_at
from drives.actions.log import note_blanket
from drives.craft.places import Place
from drives.models import Absence, Blanket, RotaLine, Square, StoredState
from drives.readings.foretold import newest
from drives.readings.rota import KIND, assigned
from shared.basics.changes import save_changed
from shared.basics.days import day_of
from shared.basics.refusals import Refused
from shared.basics.transactions import writing


def accept_rota(
    *, blanket: Blanket, seen: datetime | None, by: Member, now: datetime
) -> list[Place]:
    """Accept all that the newest rota has, if that is the one that was ``seen``: made then.

    Answers the places that are planned by that. What cannot be any more, as somebody has taken the
    square or is away, is left out.
    Refused: rota-not-made, rota-is-newer.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        made = newest(blanket, KIND)
        if made is None:
            raise refusals.no_rota()
        if seen not in (None, made.sheet.finished_at):
            raise refusals.rota_is_newer()
        today = day_of(now, blanket.drive.circle.zone)
        lines = {
            Place.parse(each["place"]): each
            for each in assigned([blanket], today).get(blanket.pk, ())
            if not each["accepted"]
        }
        people = blanket.drive.circle.members.in_bulk({each["member"] for each in lines.values()})
        accepted = []
        for place, square in hold_squares_at(blanket, lines).items():
            member = people.get(lines[place]["member"])
            begin = max(date.fromisoformat(lines[place]["begin"]), today)
            if member and why_not(square, member, begin, today) is None:
                _accept(square, member, begin, now)
                accepted.append(place)
        if accepted:
            note_blanket(blanket, by, "rota-accepted", now, squares=refusals.place_names(accepted))
    return accepted


def accept_line(
    *, square: Square, member: Member, begin: date, by: Member, now: datetime
) -> RotaLine:
    """Plan the square for ``member`` from ``begin`` on; whoever it was planned for has it no more.

    Refused: not-a-knitter, member-has-left, already-taken, already-finished, day-is-over,
    member-is-away.
    """
    with writing():
        blanket, _plan = hold_blanket(square.blanket)
        held = _held(blanket, square)
        refused = why_not(held, member, begin, day_of(now, blanket.drive.circle.zone))
        if refused is not None:
            raise refused
        line, new = _accept(held, member, begin, now)
        if new:
            note_blanket(
                blanket, by, "rota-line-accepted", now,
                place=str(held), member=member.pk, begin=begin.isoformat(),
            )  # fmt: skip
    return line


def decline_line(*, square: Square, member: Member, by: Member, now: datetime) -> RotaLine:
    """The square is not for ``member``: the rota gives it to somebody else.

    Refused: already-taken, already-finished.
    """
    with writing():
        blanket, _plan = hold_blanket(square.blanket)
        held = _held(blanket, square)
        if held.state != StoredState.OPEN:
            raise refusals.nothing_to_plan(held)
        line, new = held.rota_lines.get_or_create(member=member, defaults={"accepted_at": now})
        if new or save_changed(line, {"begin": None}):
            note_blanket(blanket, by, "rota-line-declined", now, place=str(held), member=member.pk)
    return line


def take_back(
    *, blanket: Blanket, places: Sequence[Place] | None, by: Member, now: datetime
) -> list[Place]:
    """Nothing is said any more about the squares at ``places``, or about any; those changed."""
    with writing():
        blanket, _plan = hold_blanket(blanket)
        lines = RotaLine.objects.filter(square__blanket=blanket).select_related("square")
        if places is not None:
            lines = lines.filter(square__in=blanket.squares.at_any(places))
        changed = sorted({line.square.place for line in lines})
        if changed:
            lines.delete()
            note_blanket(blanket, by, "rota-taken-back", now, squares=refusals.place_names(changed))
    return changed


def why_not(square: Square, member: Member, begin: date, today: date) -> Refused | None:
    """Why the square cannot be planned so."""
    try:
        require_present(member)
    except Refused as refused:
        return refused
    if not member.is_volunteer:
        return refusals.not_a_knitter(member.name)
    if square.state != StoredState.OPEN:
        return refusals.nothing_to_plan(square)
    if begin < today:
        return refusals.plan_day_is_over(begin)
    if Absence.objects.filter(member=member, first__lte=begin, last__gte=begin).exists():
        return refusals.member_is_away(member.name, begin)
    return None


def _held(blanket: Blanket, square: Square) -> Square:
    """Refused (not-taken) when a change of the layout has just taken it away."""
    held = hold_squares_at(blanket, [square.place]).get(square.place)
    if held is None:
        raise refusals.not_taken(square.place)
    held.blanket = blanket
    return held


def _accept(square: Square, member: Member, begin: date, now: datetime) -> tuple[RotaLine, bool]:
    """The line, and whether it was not so before."""
    square.rota_lines.exclude(member=member).exclude(begin=None).delete()
    line, new = square.rota_lines.get_or_create(
        member=member, defaults={"begin": begin, "accepted_at": now}
    )
    since = square.claims.filter(taken_at__gte=line.accepted_at).exists()
    if not new and (since or line.begin != begin):
        save_changed(line, {"begin": begin, "accepted_at": now})
        new = True
    return line, new
