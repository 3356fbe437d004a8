"""One person in one circle."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models.circle import Circle
from accounts.models.names import PersonName
from accounts.models.roles import ANY_ROLE, Role, RoleHolder
from accounts.models.user import User
from drives.craft.knitter import Hand

HANDS = {
    Hand.RIGHT: gettext_lazy("right-handed"),
    Hand.LEFT: gettext_lazy("left-handed"),
}


class MemberQuerySet(models.QuerySet["Member"]):
    """Members, by how they stand to the circle."""

    def present(self) -> MemberQuerySet:
        """Those who have not left."""
        return self.filter(left_at=None)

    def former(self) -> MemberQuerySet:
        """Those who have left and are not forgotten."""
        return self.exclude(left_at=None).exclude(name="")

    def organisers(self) -> MemberQuerySet:
        """Those who run the circle."""
        return self.filter(is_organiser=True)

    def volunteers(self) -> MemberQuerySet:
        """Those who knit."""
        return self.filter(is_volunteer=True)


class Member(RoleHolder):
    """A person in a circle; without ``user`` a *paper member*, reached by ``note``."""

    circle = models.ForeignKey(Circle, models.PROTECT, related_name="members")
    user = models.ForeignKey(
        User, models.PROTECT, related_name="memberships", null=True, blank=True
    )
    name = PersonName(gettext_lazy("name"), max_length=100)
    note = models.CharField(gettext_lazy("how to reach them"), max_length=200, blank=True)
    hand = models.CharField(gettext_lazy("hand"), max_length=5, choices=HANDS, default=Hand.RIGHT)
    may_be_named = models.BooleanField(gettext_lazy("may be named to receivers"), default=False)
    joined_at = models.DateTimeField(gettext_lazy("joined"))
    left_at = models.DateTimeField(gettext_lazy("left"), null=True, blank=True)

    objects = MemberQuerySet.as_manager()

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["circle", "user"], name="one_membership_per_user_and_circle"
            ),
            models.CheckConstraint(
                condition=models.Q(hand__in=list(Hand)), name="member_hand_known"
            ),
            models.CheckConstraint(
                condition=(models.Q(left_at=None) & ANY_ROLE)
                | (models.Q(left_at__isnull=False) & ~ANY_ROLE),
                name="member_has_a_role_until_they_leave",
            ),
            models.CheckConstraint(
                condition=models.Q(user__isnull=False)
                | models.Q(is_organiser=False, is_coordinator=False),
                name="paper_member_only_knits",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_paper(self) -> bool:
        """Whether they have no login of their own."""
        return self.user_id is None

    @property
    def may_give(self) -> set[Role]:
        """The roles that they may give to others, by an invitation or on paper."""
        if self.is_organiser:
            return set(Role)
        return {Role.VOLUNTEER} if self.is_coordinator else set()
