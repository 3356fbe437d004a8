"""The two Englishes: the few words of the trade that differ."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

AMERICAN = {
    "mitre": "miter",
    "mitred": "mitered",
    "centred": "centered",
    "tension": "gauge",
    "cast off": "bind off",
    "casting off": "binding off",
    "double knitting": "light worsted",
    "colour": "color",
    "colours": "colors",
}
"""British term → American term."""

_english = ContextVar("english", default="british")


def term(british: str) -> str:
    """The word as the present reader says it; KeyError for one that both say alike."""
    american = AMERICAN[british.lower()]
    if _english.get() != "american":
        return british
    return american.capitalize() if british[0].isupper() else american


def speak(english: str) -> None:
    """From here on use ``british`` or ``american`` terms, to the end of the request."""
    _english.set(english)


@contextmanager
def speaking(english: str) -> Iterator[None]:
    """Use ``british`` or ``american`` terms inside, whatever is spoken there later."""
    token = _english.set(english)
    try:
        yield
    finally:
        _english.reset(token)
