"""Letters and mails: to whom they go, and that none is lost without a word."""

from collections.abc import Iterator

from django.db.models import F, Q

from accounts.models import Mail
from drives.models import Letter

from .finding import Finding, where


def audit_letters() -> Iterator[Finding]:
    yield from _to_others()
    yield from _never_taken()
    yield from _in_limbo()


def _to_others() -> Iterator[Finding]:
    """A reminder goes to who has the claim, a finder's message to the circle that it is about."""
    reminders = Letter.objects.filter(claim__isnull=False)
    for letter in reminders.exclude(claim__member=F("member")):
        yield Finding(where(letter), "it is about somebody else’s claim.")
    square, piece = "note__code__square", "note__code__piece"
    circle = "blanket__drive__circle"
    told = Q(**{f"{square}__{circle}": F("member__circle")})
    told |= Q(**{f"{piece}__{circle}": F("member__circle")})
    messages = Letter.objects.filter(note__isnull=False)
    for letter in messages.exclude(pk__in=Letter.objects.filter(told).values("pk")):
        yield Finding(where(letter), "it is about a finder’s message to another circle.")


def _never_taken() -> Iterator[Finding]:
    """One that was sent has been taken: the database itself sees to that."""
    for letter in Letter.objects.filter(dropped_at__isnull=False, taken_at=None):
        yield Finding(where(letter), "it was dropped, but nobody had taken it.")


def _in_limbo() -> Iterator[Finding]:
    """Twice nobody knew, and it is not sent a third time; a human may ask whom it was for."""
    for row in (*Letter.objects.in_limbo(), *Mail.objects.in_limbo()):
        yield Finding(where(row), "nobody knows whether the mail server has taken it.")
