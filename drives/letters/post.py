"""Handing a letter to the mail server, once at most."""

import logging
from contextlib import suppress
from datetime import datetime
from smtplib import (
    SMTPDataError,
    SMTPHeloError,
    SMTPNotSupportedError,
    SMTPRecipientsRefused,
    SMTPSenderRefused,
)

from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend

from drives.actions.circles import letters
from drives.models import Letter

from .compose import compose

logger = logging.getLogger(__name__)

FOR_NOW, FOR_GOOD = 400, 500  # replies of a mail server from these numbers on (RFC 5321, 4.2.1)


def deliver(letter_id: int, now: datetime) -> None:
    """Send the letter if it is ready and nobody else has it; of many deliveries one does it.

    All that can go wrong without harm comes first. Only then it is taken: from there to the
    server's answer is the short time in which a crash may lose it, since nobody sends it again.
    """
    ready = letters.ready_letters(now).filter(pk=letter_id)
    letter = ready.select_related("member__user", "member__circle").first()
    if letter is None:
        return
    try:
        message = compose(letter, now)
        if message is None:
            if letters.take_letter(letter=letter, now=now):
                letters.drop_letter(letter=letter, now=now)
            return
        server = get_connection()
        server.open()
    except Exception:
        logger.exception("letter %d cannot be sent now", letter.pk)
        if letters.take_letter(letter=letter, now=now):
            letters.put_back_letter(letter=letter, now=now)
        return
    try:
        if letters.take_letter(letter=letter, now=now):
            _hand_in(letter, message, server, now)
    finally:
        with suppress(OSError):  # it has answered already; how we part does not matter
            server.close()


def _hand_in(
    letter: Letter, message: EmailMessage, server: BaseEmailBackend, now: datetime
) -> None:
    try:
        server.send_messages([message])
    except Exception as problem:
        match _refusal(problem):
            case None:
                logger.exception("letter %d may be sent or not: it is not sent again", letter.pk)
            case True:
                logger.warning("letter %d is refused for good: %s", letter.pk, problem)
                letters.drop_letter(letter=letter, now=now)
            case False:
                logger.warning("letter %d is refused for now: %s", letter.pk, problem)
                letters.put_back_letter(letter=letter, now=now)
    else:
        letters.note_letter_sent(letter=letter, now=now)


def _refusal(problem: Exception) -> bool | None:
    """Whether the server refused the letter for good; None if it may have accepted it.

    That can only be once it has been told the letter itself: an unclear answer to that, a
    connection that broke, a time that ran out.
    """
    match problem:
        case SMTPRecipientsRefused():
            return all(code >= FOR_GOOD for code, _reason in problem.recipients.values())
        case SMTPNotSupportedError():
            return True  # an address that this server cannot write
        case SMTPSenderRefused() | SMTPHeloError():
            return False  # it is our own address or name that it does not like
        case SMTPDataError() if problem.smtp_code >= FOR_NOW:
            return problem.smtp_code >= FOR_GOOD
        case _:
            return None
