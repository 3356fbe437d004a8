"""Making and changing a circle."""

from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

from accounts.actions.locks import hold_circle
from accounts.actions.names import require_plain
from accounts.actions.notes import note_event
from accounts.models import Circle, Member, Role, User
from shared.basics.changes import save_changed
from shared.basics.limits import spend
from shared.basics.totals import require_room
from shared.basics.transactions import writing

when_the_clock_changes: list[Callable[[Circle, ZoneInfo], None]] = []
"""Called in the transaction that gives a circle another clock, with the one it had before: what
other rooms keep by its days stays on them."""


def make_circle(
    *,
    user: User,
    name: str,
    units: str,
    english: str,
    time_zone: str,
    hand: str,
    now: datetime,
) -> Member:
    """A new circle; answers the membership of ``user``, who organises it and knits in it.

    Raises LimitReached.
    """
    require_plain(name)
    spend("circles", now=now, person=f"user {user.pk}")
    with writing():
        require_room("circles", Member.objects.organisers().filter(user=user))
        circle = Circle.objects.create(
            name=name, units=units, english=english, time_zone=time_zone, created_at=now
        )
        maker = Member(circle=circle, user=user, name=user.name, hand=hand, joined_at=now)
        maker.set_roles([Role.ORGANISER, Role.VOLUNTEER])
        maker.save(force_insert=True)
        note_event(maker, "circle-made", {"name": name}, now)
    return maker


def change_circle(
    *,
    circle: Circle,
    by: Member,
    name: str,
    units: str,
    english: str,
    time_zone: str,
    now: datetime,
    currency: str | None = None,
) -> Circle:
    """The circle with these settings; the event tells the old and the new of each change.

    The currency stays as it is where it is None.
    """
    require_plain(name)
    wanted = {"name": name, "units": units, "english": english, "time_zone": time_zone}
    if currency is not None:
        wanted["currency"] = currency
    with writing():
        circle = hold_circle(circle.pk)
        before = {field: getattr(circle, field) for field in wanted}
        if changed := save_changed(circle, wanted):
            facts = {field: [before[field], wanted[field]] for field in changed}
            note_event(by, "circle-changed", facts, now)
            if "time_zone" in changed:
                for keep in when_the_clock_changes:
                    keep(circle, ZoneInfo(before["time_zone"]))
    return circle
