"""One requested document, and how far its rendering is."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member
from shared.workers.lease import believed

from .blanket import Blanket
from .options import Options

MESSAGE_PATIENCE = timedelta(seconds=30)  # after which a message counts as lost …
LEASE = timedelta(seconds=10)  # … and a worker as dead


class Status(models.TextChoices):
    """How far a document is."""

    QUEUED = "queued", gettext_lazy("waiting for its turn")
    RENDERING = "rendering", gettext_lazy("being made")
    DONE = "done", gettext_lazy("ready")
    FAILED = "failed", gettext_lazy("failed")


class Trouble(models.TextChoices):
    """Why a document could not be made."""

    SLOW = "too-slow", gettext_lazy("It took too long to make.")
    NOT_STORED = "not-stored", gettext_lazy("It could not be stored.")
    OURS = "our-side", gettext_lazy("Something went wrong on our side.")
    LOST = "lost", gettext_lazy("Its file is not there any more.")
    STOPPED = "stopped", gettext_lazy("The work on it stopped again and again.")


class SheetQuerySet(models.QuerySet["Sheet"]):
    """Sheets, by what is to be done with them."""

    def live(self) -> SheetQuerySet:
        """Of each kind and fingerprint one at most; one that failed is asked for anew."""
        return self.exclude(status=Status.FAILED)

    def foretold(self) -> SheetQuerySet:
        """Looks ahead that can be read. One that an earlier edition kept in a file cannot."""
        return self.filter(status=Status.DONE, foretold__isnull=False)

    def unattended(self, now: datetime) -> SheetQuerySet:
        """Queued or begun, and neither a message nor a worker is looking after them any more."""
        unfinished = self.filter(status__in=[Status.QUEUED, Status.RENDERING])
        return unfinished.filter(Q(lease_until=None) | ~_held(now))

    def being_made(self, now: datetime) -> SheetQuerySet:
        """A worker that lives is busy with them."""
        return self.filter(_held(now), status=Status.RENDERING)


def _held(now: datetime) -> Q:
    """No lease is believed that is longer than those that are given."""
    return Q(lease_until__range=(now, believed(now, max(MESSAGE_PATIENCE, LEASE))))


class Sheet(models.Model):
    """The row is the truth about a document; a queued message carries only its id.

    ``kind`` is the code of one of ``drives.sheets.kinds``. ``fingerprint`` is taken from everything
    that the document shows. ``options`` are the choices of who asked; of a printed one see
    ``Options``. What is made ``in_batch`` waits behind what somebody is waiting for. Until
    ``lease_until`` a message is under way (queued) or a worker is busy with it (rendering);
    ``attempt`` counts the times that it was taken, the last time ``taken_at``. ``progress`` in
    per cent. A done one has its ``file`` in the storage, or what was ``foretold``, as
    ``drives.readings.foretold`` says it.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="sheets")
    kind = models.CharField(gettext_lazy("kind"), max_length=10)
    fingerprint = models.CharField(max_length=64)
    options = models.JSONField(default=dict)
    in_batch = models.BooleanField(default=False)
    status = models.CharField(
        gettext_lazy("status"), max_length=9, choices=Status, default=Status.QUEUED
    )
    progress = models.PositiveSmallIntegerField(gettext_lazy("progress"), default=0)
    attempt = models.PositiveSmallIntegerField(default=0)
    lease_until = models.DateTimeField(null=True)
    taken_at = models.DateTimeField(null=True)
    error = models.CharField(gettext_lazy("what went wrong"), max_length=300, blank=True)
    file = models.FileField(upload_to="sheets/", blank=True)
    foretold = models.JSONField(null=True)
    requested_by = models.ForeignKey(Member, models.PROTECT, related_name="sheets")
    requested_at = models.DateTimeField(gettext_lazy("asked for"))
    finished_at = models.DateTimeField(gettext_lazy("made"), null=True)

    objects = SheetQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "kind", "fingerprint"],
                condition=~Q(status=Status.FAILED),
                name="one_live_sheet_per_fingerprint",
            ),
            models.CheckConstraint(
                condition=Q(status__in=Status.values), name="sheet_status_known"
            ),
            models.CheckConstraint(
                condition=Q(progress__lte=100), name="sheet_progress_in_per_cent"
            ),
            models.CheckConstraint(
                condition=~Q(status=Status.DONE)
                | Q(finished_at__isnull=False) & (~Q(file="") | Q(foretold__isnull=False)),
                name="done_sheet_holds_what_was_made",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"

    @property
    def chosen(self) -> Options:
        """The choices about a printed one."""
        return Options.read(self.options)

    @property
    def trouble(self) -> str:
        """What went wrong, said; ``error`` is a ``Trouble``."""
        known = self.error in Trouble.values
        return str(Trouble(self.error).label) if known else self.error

    @property
    def unfinished(self) -> bool:
        return self.status in (Status.QUEUED, Status.RENDERING)
