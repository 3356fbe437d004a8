"""Yarn that is kept for a blanket, so that no two count the same ball."""

from datetime import datetime

from django.db.models import Sum

from accounts.models import Member
from drives.actions.locks import hold_blanket, hold_reserved, hold_yarn
from drives.actions.log import note_blanket
from drives.models import Blanket, Gift, Reservation, Yarn
from shared.basics.changes import save_changed
from shared.basics.transactions import writing

from .refusals import blanket_is_given, not_so_much_free


def reserve_yarn(
    *, blanket: Blanket, yarn: Yarn, grams: int, by: Member, now: datetime
) -> Reservation | None:
    """So many ``grams`` of the yarn in all are kept for the blanket from now on; 0: none.

    Refused: not-so-much-free, blanket-is-given.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        held = hold_yarn(yarn)
        kept = {each.blanket_id: each for each in held.reservations.all()}
        own = kept.pop(blanket.pk, None)
        if grams == 0:
            if own and own.grams:
                _free(own, held, blanket, by, now)
            return None
        require_not_given(blanket)
        free = _there(held) - sum(each.grams for each in kept.values())
        if grams > free:
            raise not_so_much_free(held, free)
        if own is None:
            own = Reservation.objects.create(blanket=blanket, yarn=held, grams=grams)
        elif not save_changed(own, {"grams": grams}):
            return own
        facts = {"yarn": str(held), "id": held.pk, "grams": grams}
        note_blanket(blanket, by, "yarn-reserved", now, **facts)
    return own


def free_reserved(blanket: Blanket, by: Member, now: datetime) -> None:
    """All that was reserved for the held blanket, which needs it no more."""
    yarns = {yarn.pk: yarn for yarn in hold_reserved(blanket)}
    for each in blanket.reservations.filter(yarn__in=yarns).order_by("yarn"):
        each.to_come = 0
        _free(each, yarns[each.yarn_id], blanket, by, now)


def use_up(yarn: Yarn, knitted: int, blanket: Blanket | None, by: Member, now: datetime) -> None:
    """Bring the reservations of a held yarn to what is there now.

    ``knitted`` grams went into the ``blanket``, or where nobody says which, into the only one that
    has some reserved. Where more is reserved than there is, the newest reservation loses it.
    """
    kept = list(yarn.reservations.select_related("blanket__drive__circle").order_by("-pk"))
    for each in kept:
        if knitted and (each.blanket_id == blanket.pk if blanket else len(kept) == 1):
            each.grams -= min(knitted, each.grams)
            _store(each)
    over = sum(each.grams for each in kept) - _there(yarn)
    for each in kept:
        less = min(each.grams, max(over, 0))
        if less:
            over -= less
            each.grams -= less
            _store(each)
            facts = {"yarn": str(yarn), "id": yarn.pk, "grams": each.grams}
            note_blanket(each.blanket, by, "reservation-cut", now, **facts)


def _there(yarn: Yarn) -> int:
    """The grams in the store and in all hands, at this moment."""
    stored = Yarn.objects.filter(pk=yarn.pk).values_list("grams", flat=True).get()
    held: int = yarn.holdings.aggregate(grams=Sum("grams", default=0))["grams"]
    return stored + held


def expect(blanket: Blanket, yarn: Yarn, grams: int) -> bool:
    """So many ``grams`` of the held yarn are to be bought for the held blanket, 0: none.

    Whether it was otherwise before.
    """
    own = yarn.reservations.filter(blanket=blanket).first()
    if grams == (own.to_come if own else 0):
        return False
    if own is None:
        Reservation.objects.create(blanket=blanket, yarn=yarn, to_come=grams)
    else:
        own.to_come = grams
        _store(own)
    return True


def arrive(yarn: Yarn, grams: int, by: Member, now: datetime) -> None:
    """Of a held yarn so many ``grams`` were bought: who waits longest has them reserved first."""
    waiting = yarn.reservations.exclude(to_come=0).select_related("blanket__drive__circle")
    for each in waiting.order_by("pk"):
        come = min(each.to_come, grams)
        if come:
            grams -= come
            each.to_come -= come
            each.grams += come
            _store(each)
            facts = {"yarn": str(yarn), "id": yarn.pk, "grams": each.grams}
            note_blanket(each.blanket, by, "yarn-reserved", now, **facts)


def require_not_given(blanket: Blanket) -> None:
    """Refused: blanket-is-given."""
    if Gift.objects.filter(blanket=blanket).exclude(given_on=None).exists():
        raise blanket_is_given(blanket)


def _store(reservation: Reservation) -> None:
    if reservation.grams or reservation.to_come:
        reservation.save(update_fields=["grams", "to_come"])
    else:
        reservation.delete()


def _free(
    reservation: Reservation, yarn: Yarn, blanket: Blanket, by: Member, now: datetime
) -> None:
    facts = {"yarn": str(yarn), "id": yarn.pk, "grams": reservation.grams}
    reservation.grams = 0
    _store(reservation)
    note_blanket(blanket, by, "yarn-freed", now, **facts)
