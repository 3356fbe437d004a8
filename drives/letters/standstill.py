"""Whether e-mails wait while nobody sends any."""

from datetime import datetime

from accounts.models import Mail
from drives.actions.circles.letters import ready_letters
from drives.models import Letter


def letters(now: datetime) -> datetime | None:
    """Since when the oldest could have been sent; None while one is in somebody's hands."""
    for rows in (Letter.objects.all(), Mail.objects.all()):
        if rows.in_hand(now).exists():
            return None
    waiting = [
        row.not_before
        for rows in (ready_letters(now), Mail.objects.to_send(now))
        if (row := rows.order_by("not_before").first())
    ]
    return min(waiting, default=None)
