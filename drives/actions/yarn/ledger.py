"""The ledger of the yarn store: grams come, move between the store and hands, and are knitted up.

Where a call says which line its caller has ``seen`` last, the same again by the same person is
taken for the second press of one button, and changes nothing.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from django.db.models import F

from accounts.access import acts_for
from accounts.actions.members import require_present
from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_yarn
from drives.actions.log import note_circle
from drives.models import Blanket, Holding, Move, Yarn, YarnWay
from shared.basics.transactions import writing

from .reservations import arrive, use_up

MOST_GRAMS = 100_000  # grams in one line


def receive_yarn(
    *, yarn: Yarn, grams: int, by: Member, now: datetime, note: str = "", seen: int | None = None
) -> Move:
    """``grams`` were given or bought."""
    with _held(yarn) as held:
        return _moved(held, YarnWay.RECEIVED, by, now, seen, note=note, grams=grams)


def hand_out_yarn(
    *, yarn: Yarn, member: Member, grams: int, by: Member, now: datetime, seen: int | None = None
) -> Move:
    """``grams`` go from the store to ``member``. Refused: not-so-much-yarn, member-has-left."""
    require_present(member)
    with _held(yarn) as held:
        return _moved(
            held, YarnWay.HANDED_OUT, by, now, seen, grams=-grams, member=member, held=grams
        )


def take_back_yarn(
    *, yarn: Yarn, member: Member, grams: int, by: Member, now: datetime, seen: int | None = None
) -> Move:
    """``member``, who may have left, brings ``grams`` back. Refused: not-so-much-yarn."""
    with _held(yarn) as held:
        return _moved(
            held, YarnWay.RETURNED, by, now, seen, grams=grams, member=member, held=-grams
        )


def knit_up_yarn(
    *,
    yarn: Yarn,
    member: Member | None,
    grams: int,
    by: Member,
    now: datetime,
    seen: int | None = None,
    blanket: Blanket | None = None,
) -> Move:
    """``grams`` are in a blanket now: what ``member`` had, or else out of the store.

    What was reserved for the ``blanket`` is used up by it; of a yarn that is reserved for one alone
    it need not be told. For the member, or a coordinator. Refused: not-so-much-yarn, not-yours.
    """
    if not acts_for(by, member.pk if member else None):
        raise refusals.not_your_yarn(yarn)
    with _held(yarn) as held:
        line: dict[str, Any] = (
            {"grams": -grams} if member is None else {"member": member, "held": -grams}
        )
        return _moved(held, YarnWay.KNITTED, by, now, seen, blanket, **line)


def count_yarn_again(
    *, yarn: Yarn, member: Member | None, grams: int, by: Member, now: datetime, note: str = ""
) -> Move | None:
    """``member``, or else the store, has ``grams``; the difference is a line of the ledger.

    None where the books said the same.
    """
    with _held(yarn) as held:
        less: dict[str, Any] = {"grams": grams - balance_of(held, member)}
        if member is not None:
            less = {"held": less["grams"]}
        if not any(less.values()):
            return None
        return _moved(held, YarnWay.COUNTED, by, now, None, note=note, member=member, **less)


def write_move(
    yarn: Yarn,
    way: YarnWay,
    by: Member,
    now: datetime,
    *,
    grams: int = 0,
    member: Member | None = None,
    held: int = 0,
    note: str = "",
    blanket: Blanket | None = None,
) -> Move:
    """One line of a yarn that is held, and the balances after it; notes no event of its own.

    ``blanket``: the one that it was knitted into. Refused: not-so-much-yarn.
    """
    store = Yarn.objects.filter(pk=yarn.pk, grams__gte=max(-grams, 0))
    if not store.update(grams=F("grams") + grams):
        raise refusals.not_so_much_yarn(yarn, None, balance_of(yarn, None), -grams)
    if member is not None:
        Holding.objects.get_or_create(yarn=yarn, member=member)
        hands = Holding.objects.filter(yarn=yarn, member=member, grams__gte=max(-held, 0))
        if not hands.update(grams=F("grams") + held):
            raise refusals.not_so_much_yarn(yarn, member, balance_of(yarn, member), -held)
    if (gone := -(grams + held)) > 0:
        use_up(yarn, gone if way == YarnWay.KNITTED else 0, blanket, by, now)
    if way == YarnWay.RECEIVED:
        arrive(yarn, grams, by, now)
    return Move.objects.create(
        yarn=yarn, way=way, grams=grams, member=member, held=held, note=note, by=by, at=now
    )


def balance_of(yarn: Yarn, member: Member | None) -> int:
    """The grams that ``member``, or else the store, has of it at this moment."""
    rows: Any = Yarn.objects.filter(pk=yarn.pk)
    if member is not None:
        rows = Holding.objects.filter(yarn=yarn, member=member)
    return sum(rows.values_list("grams", flat=True))


@contextmanager
def _held(yarn: Yarn) -> Iterator[Yarn]:
    with writing():
        yield hold_yarn(yarn)


def _moved(
    yarn: Yarn,
    way: YarnWay,
    by: Member,
    now: datetime,
    seen: int | None,
    blanket: Blanket | None = None,
    **line: Any,
) -> Move:
    """The line with its event, or the one that the first press of the button has written."""
    if seen is not None:
        same = {"grams": 0, "held": 0, "member": None, "note": ""} | line
        first = yarn.moves.filter(pk__gt=seen, way=way, by=by, **same).first()
        if first:
            return first
    move = write_move(yarn, way, by, now, blanket=blanket, **line)
    note_circle(
        yarn.circle, by, f"yarn-{way}", now,
        yarn=str(yarn), id=yarn.pk, grams=abs(move.held or move.grams),
        member=move.member_id,
    )  # fmt: skip
    return move
