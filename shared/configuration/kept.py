"""How long things are kept. The tasks that forget keep to this table, and the page on privacy tells
it.
"""

from collections.abc import Mapping
from datetime import timedelta
from typing import NamedTuple

from django.core.exceptions import ImproperlyConfigured
from django.utils.translation import gettext_lazy

from shared.basics.text import Text


class Kept(NamedTuple):
    """``days`` unless a setting says otherwise; ``what``: a thing, and from when on it counts."""

    days: int
    what: Text


TABLE: Mapping[str, Kept] = {
    "absences": Kept(7, gettext_lazy("Days away, once they are over")),
    "messages": Kept(
        90,
        gettext_lazy("What a finder wrote, once it is seen to. Their contact is deleted at once"),
    ),
    "invitations": Kept(
        30,
        gettext_lazy("An invited address, once the invitation is used, revoked or over"),
    ),
    "letters": Kept(90, gettext_lazy("That a letter was sent, and what about")),
    "mails": Kept(
        14,
        gettext_lazy("Who an invitation or the like was sent to. Its text is deleted at once"),
    ),
    "documents": Kept(
        30, gettext_lazy("A document that was made for printing, with the names in it")
    ),
    "calls": Kept(2, gettext_lazy("The answer that a program got, in case it asks again")),
    "security": Kept(
        90,
        gettext_lazy("Sign-ins that failed, new keys and passwords, with the network address"),
    ),
    "circles": Kept(30, gettext_lazy("All that a circle holds, once it is closed")),
}


def kept(text: str) -> dict[str, timedelta]:
    """The table's times, with those that ``text`` sets: ``letters=30 messages=14``, in days.

    Raises ``ImproperlyConfigured``, with a sentence for whoever runs the site.
    """
    days = {name: kept.days for name, kept in TABLE.items()}
    for part in text.split():
        name, equals, number = part.partition("=")
        if name not in TABLE or not equals or not number.isdecimal() or not 0 < int(number) < 3651:
            raise ImproperlyConfigured(
                "MITREWISE_KEPT_DAYS must look like letters=30 messages=14, in days up to 3650, "
                f"for some of {', '.join(TABLE)}; “{part}” does not."
            )
        days[name] = int(number)
    return {name: timedelta(days=number) for name, number in days.items()}
