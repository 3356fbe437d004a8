"""What finders wrote and nobody has seen to."""

from accounts.access import may
from accounts.models import Member, Role
from drives.models import Blanket, Code, FinderNote


def unread(me: Member, blanket: Blanket | None = None) -> list[FinderNote]:
    """The messages about ``blanket``, or all of the circle; only for those who look after it."""
    if not may(me, Role.COORDINATOR):
        return []
    all_codes = Code.objects.all()
    codes = all_codes.of_blanket(blanket) if blanket else all_codes.of_circle(me.circle)
    return list(FinderNote.objects.unread().of(codes))
