"""E-mails that the site writes by itself, and who wants which."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member, Posted, PostedQuerySet, sending_constraints

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


class Letter(Posted):
    """One e-mail to one member; ``about`` tells it from all others of its subject.

    It is written where the reason for it is; what it says is put together when it is sent.
    """

    member = models.ForeignKey(Member, models.CASCADE, related_name="letters")
    subject = models.CharField(max_length=8, choices=Subject)
    about = models.CharField(max_length=60)
    claim = models.ForeignKey(Claim, models.CASCADE, related_name="letters", null=True)
    note = models.ForeignKey(FinderNote, models.CASCADE, related_name="letters", null=True)
    sheets = models.ManyToManyField(Sheet, related_name="letters")

    objects = PostedQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(
                fields=["member", "subject", "about"], name="one_letter_about_one_thing"
            ),
            models.CheckConstraint(
                condition=Q(subject__in=Subject.values), name="letter_subject_known"
            ),
            *sending_constraints("letter"),
        ]
        indexes = [
            models.Index(
                fields=["not_before"],
                condition=Q(sent_at=None, dropped_at=None),
                name="letters_under_way",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.subject} {self.about}"
