"""What ends, and says how."""

from django.db import models
from django.db.models import Q


def ended_says_how(endings: type[models.TextChoices], *, name: str) -> models.CheckConstraint:
    """A row with ``ended_at`` has one of these as its ``ending``; one that is open has none."""
    return models.CheckConstraint(
        condition=Q(ended_at=None, ending="")
        | Q(ended_at__isnull=False, ending__in=endings.values),
        name=name,
    )
