"""What the receiver of a drive asks, who said so, and what the organiser overruled."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.typical import ReceiverKind

from .drive import Drive

_FIBRE_SETS = ("wanted", "refused")


class Receiver(models.Model):
    """One drive's receiver. ``told`` holds the rules that were told, by their names in ``Rules``.

    ``kind`` is the template that they began with. They count as confirmed from ``told_on`` on,
    the day when ``told_by``, somebody at the receiver's, told them; until then they are typical.
    """

    drive = models.OneToOneField(Drive, models.CASCADE, related_name="receiver")
    kind = models.CharField(
        gettext_lazy("kind"),
        max_length=16,
        choices=[(kind.value, kind.value) for kind in ReceiverKind],
        blank=True,
    )
    told = models.JSONField(default=dict)
    told_by = models.CharField(gettext_lazy("who told them"), max_length=100, blank=True)
    told_on = models.DateField(gettext_lazy("when"), null=True, blank=True)
    noted_by = models.ForeignKey(Member, models.PROTECT, related_name="+", null=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(told_on=None, told_by="") | (Q(told_on__isnull=False) & ~Q(told_by="")),
                name="confirmed_rules_have_a_day_and_a_person",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.drive}"

    @property
    def confirmed(self) -> bool:
        return self.told_on is not None

    @property
    def rules(self) -> Rules:
        told: dict[str, Any] = {
            name: frozenset(Fibre(fibre) for fibre in value) if name in _FIBRE_SETS else value
            for name, value in self.told.items()
        }
        return Rules(**told)


def stored_rules(rules: Rules) -> dict[str, Any]:
    """``rules`` for ``Receiver.told``."""
    told = {field.name: getattr(rules, field.name) for field in fields(rules)}
    return {
        name: sorted(value) if name in _FIBRE_SETS else value
        for name, value in told.items()
        if value is not None
    }


class Overruling(models.Model):
    """An organiser's word that one conflict does not count, with the reason.

    ``subject`` is what the conflict is of (``yarn 5``, ``plan 3``, ``blanket 3``), ``code`` and
    ``about`` are the conflict's own.
    """

    drive = models.ForeignKey(Drive, models.CASCADE, related_name="overrulings")
    subject = models.CharField(max_length=30)
    code = models.SlugField()
    about = models.CharField(max_length=40, blank=True)
    reason = models.CharField(gettext_lazy("reason"), max_length=300)
    by = models.ForeignKey(Member, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["drive", "subject", "code", "about"], name="one_overruling_per_conflict"
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="overruling_has_a_reason"),
        ]

    def __str__(self) -> str:
        return f"{self.subject}: {self.code}"
