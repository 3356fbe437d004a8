"""One of those who work at the site at the same time: calls of the API and forms of the pages."""

import http.client
import json
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from random import Random
from typing import Any, NamedTuple
from urllib.parse import urlencode

from .book import Book, Fact
from .world import Person, Quilt, World

PATIENCE_SECONDS = 60.0
TRIES = 4  # of a call that nobody answers, each with the same Idempotency-Key
CSRF = "a" * 32


class Answer(NamedTuple):
    status: int
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


# Whether it was done by the very call that was answered so; None where nothing was to be done.
Judge = Callable[[Answer], bool | None]


@dataclass
class Turn:
    """One client: what it chooses comes from its own ``random``, whatever is answered."""

    world: World
    book: Book
    random: Random
    port: int
    over: threading.Event
    name: str
    _line: http.client.HTTPConnection | None = field(default=None, init=False)
    _calls: int = field(default=0, init=False)

    # --- Choosing ---

    def quilt(self) -> Quilt:
        return self.random.choice(self.world.quilts)

    def anybody(self) -> Person:
        return self.random.choice(self.world.people)

    def coordinator(self) -> Person:
        return self.random.choice([each for each in self.world.people if each.coordinates])

    # --- Asking ---

    def get(self, me: Person, path: str) -> Answer | None:
        """Of the API."""
        return self._ask("GET", f"/api/v1/{path}", {"Authorization": f"Token {me.key}"}, b"")

    def look(self, me: Person, path: str) -> Answer | None:
        """At a page."""
        return self._ask("GET", path, {"Cookie": f"sessionid={me.session}"}, b"")

    def call(
        self, me: Person, path: str, fact: Fact | None, body: object = None, *,
        sure: Judge = lambda answer: True, method: str = "POST",
    ) -> Answer | None:  # fmt: skip
        """Write by the API, again and again until somebody answers."""
        self._calls += 1
        headers = {
            "Authorization": f"Token {me.key}",
            "Content-Type": "application/json",
            "Idempotency-Key": f"{self.name}-{self._calls}",
        }
        answer = None
        for again in range(TRIES):
            time.sleep(0.3 * again)
            sent = b"" if body is None else json.dumps(body).encode()
            answer = self._ask(method, f"/api/v1/{path}", headers, sent)
            if answer is not None and answer.status < 500:
                break
        if fact is not None:
            self._note(answer, fact, sure)
        return answer

    def send(
        self, me: Person, path: str, fact: Fact | None, form: Mapping[str, object],
        *, shown: int = 302, sure: bool = False,
    ) -> Answer | None:  # fmt: skip
        """Send a form of a page, once; ``shown`` is the status when it was done."""
        headers = {
            "Cookie": f"sessionid={me.session}; csrftoken={CSRF}",
            "Content-Type": "application/x-www-form-urlencoded",
        }
        sent = urlencode({"csrfmiddlewaretoken": CSRF, **form}, doseq=True).encode()
        answer = self._ask("POST", path, headers, sent)
        if fact is not None:
            refused = answer is not None and answer.status < 500 and answer.status != shown
            if not refused:
                self._note(answer, fact, lambda _: sure)
        return answer if answer is not None and answer.status == shown else None

    def _note(self, answer: Answer | None, fact: Fact, sure: Judge) -> None:
        if answer is None or answer.status >= 500:
            self.book.note(self.book.unknown, fact)
        elif answer.status < 400 and (verdict := sure(answer)) is not None:
            self.book.note(self.book.sure if verdict else self.book.done, fact)

    def _ask(
        self, method: str, path: str, headers: Mapping[str, str], body: bytes
    ) -> Answer | None:
        """None when nobody answers."""
        try:
            if self._line is None:
                self._line = http.client.HTTPConnection(
                    "127.0.0.1", self.port, timeout=PATIENCE_SECONDS
                )
            self._line.request(method, path, body, dict(headers))
            answer = self._line.getresponse()
            told = Answer(answer.status, answer.read())
        except (OSError, http.client.HTTPException):
            if self._line is not None:
                self._line.close()
            self._line = None
            self.book.count("unanswered")
            self.over.wait(0.1)
            return None
        self.book.count(str(told.status))
        return told
