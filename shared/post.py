"""Handing one e-mail to the mail server, so that it is sent once at most.

Who sends takes the e-mail first, by a conditional UPDATE of its row, and puts it back only where
the server cannot have accepted it. All that can go wrong without harm (writing it, reaching the
server) comes before: from the taking to the server's answer is the short time in which a crash may
lose the e-mail, since nobody sends it again.
"""

import logging
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from enum import Enum, auto
from smtplib import (
    SMTPDataError,
    SMTPHeloError,
    SMTPNotSupportedError,
    SMTPRecipientsRefused,
    SMTPSenderRefused,
)

from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend

logger = logging.getLogger(__name__)

FOR_NOW, FOR_GOOD = 400, 500  # replies of a mail server from these numbers on (RFC 5321, 4.2.1)


class ServerAnswer(Enum):
    """What the server has said."""

    ACCEPTED = auto()
    NOT_NOW = auto()
    NEVER = auto()
    UNCLEAR = auto()  # it may have accepted it


@contextmanager
def mail_server() -> Iterator[BaseEmailBackend]:
    """A connection that is open; how we part does not matter, for it has answered already."""
    server = get_connection()
    server.open()
    try:
        yield server
    finally:
        with suppress(OSError):
            server.close()


def hand_in(message: EmailMessage, server: BaseEmailBackend, *, called: str) -> ServerAnswer:
    """What the server says to the message; what went wrong is logged, with how it is ``called``."""
    try:
        server.send_messages([message])
    except Exception as problem:
        answer = _answer(problem)
        match answer:
            case ServerAnswer.NEVER:
                logger.warning("%s is refused for good: %s", called, problem)
            case ServerAnswer.NOT_NOW:
                logger.warning("%s is refused for now: %s", called, problem)
            case _:
                logger.exception("%s may be sent or not: it is not sent again", called)
        return answer
    return ServerAnswer.ACCEPTED


def _answer(problem: Exception) -> ServerAnswer:
    """It can only have accepted the message once it has been told the message itself.

    Then there may be an unclear answer to that, a connection that broke, a time that ran out.
    """
    match problem:
        case SMTPRecipientsRefused():
            codes = [code for code, _reason in problem.recipients.values()]
            return (
                ServerAnswer.NEVER
                if all(code >= FOR_GOOD for code in codes)
                else ServerAnswer.NOT_NOW
            )
        case SMTPNotSupportedError():
            return ServerAnswer.NEVER  # an address that this server cannot write
        case SMTPSenderRefused() | SMTPHeloError():
            return ServerAnswer.NOT_NOW  # it is our own address or name that it does not like
        case SMTPDataError() if problem.smtp_code >= FOR_NOW:
            return ServerAnswer.NEVER if problem.smtp_code >= FOR_GOOD else ServerAnswer.NOT_NOW
        case _:
            return ServerAnswer.UNCLEAR
