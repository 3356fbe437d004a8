"""Where changes of one circle's people meet."""

from accounts.models import Circle


def hold_circle(circle_id: int) -> Circle:
    """The circle, locked until the transaction ends: who changes its people waits here.

    FOR NO KEY UPDATE: rows that only point to the circle can still be written meanwhile.
    """
    return Circle.objects.select_for_update(no_key=True).get(pk=circle_id)
