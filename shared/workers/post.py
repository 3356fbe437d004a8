"""Handing one e-mail to the mail server, and what it says to that.

Only once it has been told the whole message, with the dot at the end, can it have accepted it;
whatever goes wrong before, it has not.
"""

import logging
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from enum import Enum, auto
from smtplib import SMTP, SMTPDataError, SMTPNotSupportedError, SMTPRecipientsRefused

from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend

logger = logging.getLogger(__name__)

END = b"\r\n.\r\n"  # of a message (RFC 5321, 4.1.1.4)
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
    line = _Line(server)
    try:
        server.send_messages([message])
    except Exception as problem:
        answer = _answer(problem, told=line.told)
        match answer:
            case ServerAnswer.NEVER:
                logger.warning("%s is refused for good: %s", called, problem)
            case ServerAnswer.NOT_NOW:
                logger.warning("%s is refused for now: %s", called, problem)
            case _:
                logger.warning("%s may be sent or not: %s", called, problem)
        return answer
    return ServerAnswer.ACCEPTED


class _Line:
    """What has been said on the line: ``told`` is the whole message; elsewhere that is unknown."""

    def __init__(self, server: BaseEmailBackend) -> None:
        smtp = getattr(server, "connection", None)
        self.told = not isinstance(smtp, SMTP)
        if not isinstance(smtp, SMTP):
            return
        send = smtp.send

        def note(said: str | bytes) -> None:
            send(said)
            self.told = self.told or (isinstance(said, bytes) and said.endswith(END))

        smtp.send = note  # type: ignore[method-assign, assignment]


def _answer(problem: Exception, *, told: bool) -> ServerAnswer:
    """Once it is told, a line that broke, a time that ran out or no real answer is unclear."""
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
        case SMTPDataError() if problem.smtp_code >= FOR_NOW:
            return ServerAnswer.NEVER if problem.smtp_code >= FOR_GOOD else ServerAnswer.NOT_NOW
        case _:
            # It may be our own address or name that it does not like; or it has gone.
            return ServerAnswer.UNCLEAR if told else ServerAnswer.NOT_NOW
