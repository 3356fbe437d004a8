"""E-mails that the site writes by itself, and who wants which."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .claim import Claim
from .code import FinderNote
from .sheet import Sheet


class Subject(models.TextChoices):
    """What a letter is about; each can be turned off by its reader."""

    DUE_SOON = "due-soon", gettext_lazy("a few days before a square is due")
    LATE = "late", gettext_lazy("when a square is late")
    WEEKLY = "weekly", gettext_lazy("the status sheets, every Saturday")
    MONDAY = "monday", gettext_lazy("what is late and who waits for whom, every Monday")
    FOUND = "found", gettext_lazy("when a finder leaves a message")


# What nobody gets who has not asked for it.
ONLY_IF_WANTED = (Subject.WEEKLY,)
FOR_COORDINATORS = (Subject.MONDAY, Subject.FOUND)


class Subscription(models.Model):
    """What a member has said about one kind of letter; who has said nothing gets the usual."""

    member = models.ForeignKey(Member, models.CASCADE, related_name="subscriptions")
    subject = models.CharField(max_length=8, choices=Subject)
    wanted = models.BooleanField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["member", "subject"], name="one_subscription_per_member_and_subject"
            ),
            models.CheckConstraint(
                condition=Q(subject__in=Subject.values), name="subscription_subject_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member}: {self.subject}"


class LetterQuerySet(models.QuerySet["Letter"]):
    """Letters, by how far they are."""

    def waiting(self) -> LetterQuerySet:
        """Not yet in anybody's hands to be sent."""
        return self.filter(taken_at=None)


class Letter(models.Model):
    """One e-mail to one member; ``about`` tells it from all others of its subject.

    The row is the truth: it is written where the reason for it is, and a message carries only its
    id. It is sent once at most: who sends it first sets ``taken_at``, and takes that back only
    where the mail server cannot have accepted it. ``attempt`` counts the times that it was taken,
    ``not_before`` is when it may be tried (again). A letter that has nothing to say any more has
    ``dropped_at``. What it says is put together when it is sent.
    """

    member = models.ForeignKey(Member, models.CASCADE, related_name="letters")
    subject = models.CharField(max_length=8, choices=Subject)
    about = models.CharField(max_length=60)
    claim = models.ForeignKey(Claim, models.CASCADE, related_name="letters", null=True)
    note = models.ForeignKey(FinderNote, models.CASCADE, related_name="letters", null=True)
    sheets = models.ManyToManyField(Sheet, related_name="letters")
    queued_at = models.DateTimeField()
    not_before = models.DateTimeField()
    attempt = models.PositiveSmallIntegerField(default=0)
    taken_at = models.DateTimeField(null=True)
    sent_at = models.DateTimeField(null=True)
    dropped_at = models.DateTimeField(null=True)

    objects = LetterQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["member", "subject", "about"], name="one_letter_about_one_thing"
            ),
            models.CheckConstraint(
                condition=Q(subject__in=Subject.values), name="letter_subject_known"
            ),
            models.CheckConstraint(
                # A comparison with nothing would pass for true.
                condition=Q(sent_at=None) | Q(taken_at__isnull=False, sent_at__gte=F("taken_at")),
                name="letter_taken_before_it_is_sent",
            ),
            models.CheckConstraint(
                condition=Q(sent_at=None) | Q(dropped_at=None), name="letter_sent_or_dropped"
            ),
        ]
        indexes = [
            models.Index(
                fields=["not_before"], condition=Q(taken_at=None), name="letters_to_be_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.subject} {self.about}"
