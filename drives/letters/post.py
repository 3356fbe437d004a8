"""Sending a letter."""

from datetime import datetime

from accounts import post
from drives.actions.circles import letters

from .compose import compose


def deliver(letter_id: int, now: datetime) -> None:
    """Send the letter if it is ready and nobody else has it; of many deliveries one does it."""
    ready = letters.ready_letters(now).filter(pk=letter_id)
    letter = ready.select_related("member__user", "member__circle").first()
    if letter is not None:
        post.deliver(letter, lambda: compose(letter, now), now)
