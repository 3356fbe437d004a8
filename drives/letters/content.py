"""What the parts of a letter have in common."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.conf import settings
from django.urls import reverse
from django.utils.timezone import localdate

from drives.models import Letter


@dataclass(frozen=True)
class Content:
    """The facts for the template, and the PDFs that go along: name and bytes."""

    facts: dict[str, Any]
    files: list[tuple[str, bytes]] = field(default_factory=list)


def address(page: str, *parts: object) -> str:
    """The full address of a page of drives."""
    return settings.SITE_URL + reverse(f"drives:{page}", args=parts)


def day_is_over(letter: Letter, now: datetime) -> bool:
    """Whether a letter about a day comes too late: another day's news is no news."""
    return letter.about != localdate(now).isoformat()
