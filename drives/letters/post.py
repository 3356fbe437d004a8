"""Sending a letter, once at most."""

import logging
from contextlib import ExitStack
from datetime import datetime

from drives.actions.circles import letters
from shared.post import ServerAnswer, hand_in, mail_server

from .compose import compose

logger = logging.getLogger(__name__)


def deliver(letter_id: int, now: datetime) -> None:
    """Send the letter if it is ready and nobody else has it; of many deliveries one does it."""
    ready = letters.ready_letters(now).filter(pk=letter_id)
    letter = ready.select_related("member__user", "member__circle").first()
    if letter is None:
        return
    with ExitStack() as opened:
        try:
            message = compose(letter, now)
            server = opened.enter_context(mail_server()) if message else None
        except Exception:
            logger.exception("letter %d cannot be sent now", letter.pk)
            if letters.take_letter(letter=letter, now=now):
                letters.put_back_letter(letter=letter, now=now)
            return
        if not letters.take_letter(letter=letter, now=now):
            return
        if message is None or server is None:
            letters.drop_letter(letter=letter, now=now)
            return
        match hand_in(message, server, called=f"letter {letter.pk}"):
            case ServerAnswer.ACCEPTED:
                letters.note_letter_sent(letter=letter, now=now)
            case ServerAnswer.NEVER:
                letters.drop_letter(letter=letter, now=now)
            case ServerAnswer.NOT_NOW:
                letters.put_back_letter(letter=letter, now=now)
            case ServerAnswer.UNCLEAR:
                pass  # it stays taken: nobody sends it again
