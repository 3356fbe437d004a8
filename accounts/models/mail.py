"""E-mails whose words are written when they are asked for."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from .invitation import Invitation
from .posted import Posted, PostedQuerySet, sending_constraints


class Mail(Posted):
    """An invitation, or what allauth sends: to prove an address, to choose a new password.

    Such words hold secrets, and are wiped as soon as the mail is sent or dropped.
    """

    to = models.EmailField()
    heading = models.CharField(max_length=500)
    body = models.TextField(blank=True)
    invitation = models.ForeignKey(Invitation, models.CASCADE, related_name="mails", null=True)

    objects = PostedQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = sending_constraints("mail")
        indexes = [
            models.Index(
                fields=["not_before"],
                condition=Q(sent_at=None, dropped_at=None),
                name="mails_to_be_sent",
            )
        ]

    def __str__(self) -> str:
        return f"{self.heading} ({self.pk})"
