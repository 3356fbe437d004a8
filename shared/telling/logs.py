"""What a line of the log looks like: when, which request, whose, what; and no secret in it."""

import json
import logging
import re
import secrets
from contextvars import ContextVar
from datetime import UTC, datetime
from typing import NamedTuple

from django.http import HttpRequest, HttpResponseBase

from shared.pages.asker import address_of
from shared.pages.wrapping import Wrapping

# Addresses that open something for whoever knows them; what follows is the secret.
SECRET = re.compile(
    r"(/(?:join|calendar|letters/off|c|account/confirm-email|account/password/reset/key)/)"
    r"[^/\s?#\"'<>]+"
)
# Answers that say how things are, not that something is wrong with the site or the asker.
EVERYDAY = {401, 404, 405, 406, 409, 410, 413, 415, 422, 429}


class Asking(NamedTuple):
    """The request that is being answered, under the number that its lines have."""

    number: str
    request: HttpRequest

    @property
    def person(self) -> int | None:
        """The id of whoever asks, if somebody has looked already: a line costs no query."""
        user = self.request.__dict__.get("_cached_user") or self.request.__dict__.get("user")
        return user.__dict__.get("id") if user is not None else None

    @property
    def address(self) -> str:
        """The network address that asks."""
        return address_of(self.request)[:45]


_asking: ContextVar[Asking | None] = ContextVar("asking", default=None)


def asking() -> Asking | None:
    """What is being answered now; None in workers and commands."""
    return _asking.get()


class NumberedRequests(Wrapping):
    """Gives each request a number, which its answer and all its lines carry."""

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        number = secrets.token_hex(6)
        token = _asking.set(Asking(number, request))
        try:
            response = self.get_response(request)
        finally:
            _asking.reset(token)
        response.headers["X-Request-Id"] = number
        return response


class NotEveryday(logging.Filter):
    """Leaves out what Django warns of at every 404 and 409."""

    def filter(self, record: logging.LogRecord) -> bool:
        return getattr(record, "status_code", None) not in EVERYDAY


class Lines(logging.Formatter):
    """``2026-11-02T10:00:00Z WARNING django.request [3f0c… person 7] Forbidden: /circles/1/``."""

    def format(self, record: logging.LogRecord) -> str:
        """The line, with what follows of a traceback below it."""
        head = f"{_time(record)} {record.levelname:7} {record.name} {self._whose()}"
        return masked(head + self._said(record))

    def _whose(self) -> str:
        now = asking()
        if now is None:
            return ""
        person = f" person {now.person}" if now.person else ""
        return f"[{now.number}{person}] "

    def _said(self, record: logging.LogRecord) -> str:
        """The message on one line: what somebody sends must not look like a line of its own."""
        said = record.getMessage().replace("\r", "\\r").replace("\n", "\\n")
        trace = self.formatException(record.exc_info) if record.exc_info else ""
        return f"{said}\n{trace}" if trace else said


class Json(logging.Formatter):
    """The same as one JSON object a line, for programs that gather logs."""

    def format(self, record: logging.LogRecord) -> str:
        """What is not known is left out."""
        now = asking()
        told = {
            "time": _time(record),
            "level": record.levelname.lower(),
            "logger": record.name,
            "message": masked(record.getMessage()),
            "request": now and now.number,
            "person": now and now.person,
            "traceback": record.exc_info and masked(self.formatException(record.exc_info)),
        }
        return json.dumps({name: value for name, value in told.items() if value}, default=str)


def masked(text: str) -> str:
    """Without what would open something in the addresses that it names."""
    return SECRET.sub(r"\1…", text)


def _time(record: logging.LogRecord) -> str:
    at = datetime.fromtimestamp(record.created, UTC)
    return at.isoformat(timespec="milliseconds").replace("+00:00", "Z")
