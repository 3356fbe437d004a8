"""Private addresses under which a member's calendar program reads their dates."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member, made_since_the_password


class FeedQuerySet(models.QuerySet["Feed"]):
    """Feeds, by whether they still answer."""

    def live(self) -> FeedQuerySet:
        """Those of present members, made since their password was last changed."""
        since = made_since_the_password("member__user", "made_at")
        return self.filter(since, revoked_at=None, member__left_at=None)


class Feed(models.Model):
    """One address; its secret is shown once, the row keeps its ``digest`` (``digest_of``)."""

    member = models.ForeignKey(Member, models.CASCADE, related_name="feeds")
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(gettext_lazy("made"))
    revoked_at = models.DateTimeField(gettext_lazy("revoked"), null=True)

    objects = FeedQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["member"], condition=Q(revoked_at=None), name="one_live_feed_per_member"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member} · {self.pk}"
