"""The rows of accounts that actions hold. The whole order stands in ``drives.actions.locks``.

Each lock is FOR NO KEY UPDATE: rows that only point to the held one can still be written meanwhile.
"""

from accounts.models import Circle, Member


def hold_circle(circle_id: int) -> Circle:
    """The circle: who changes its people, or the names in its store, waits here."""
    return Circle.objects.select_for_update(no_key=True).get(pk=circle_id)


def hold_member(member: Member) -> Member:
    """The member's row as it is now: what they do twice at once queues up here."""
    return Member.objects.select_for_update(no_key=True).get(pk=member.pk)
