"""A drive: what a circle knits for, and by which rules."""

from django.db import models
from django.db.models.functions import Length
from django.db.models.lookups import LessThanOrEqual
from django.utils.translation import gettext_lazy

from accounts.models import Circle
from drives.craft.forecast.passing import Passing

LONGEST_PURPOSE = 2000  # characters


class Mode(models.TextChoices):
    """How a blanket moves between its knitters."""

    TRAVELLING = "travelling", gettext_lazy("travelling: pieces pass from hand to hand")
    TOGETHER = "together", gettext_lazy("together: the circle meets around one table")


PASSING = {
    Passing.AFTER_EACH: gettext_lazy("after each square, if somebody else waits"),
    Passing.KEEP: gettext_lazy("stays until nothing more can be begun on it"),
    Passing.MEET: gettext_lazy("when the circle meets"),
}


class Drive(models.Model):
    """Blankets for one recipient; days are calendar days, ``claim_limit`` open claims a member.

    ``passing`` is how travelling pieces go on; where it is at meetings, these are the noted ones,
    else every ``meet_every`` days (null: the usual).
    ``at_once`` null is the mode's usual (``room_on_a_piece``); ``hand_over_days`` is what the
    organiser expects, until the drive's own hand-overs tell. ``country`` is the receiver's, two
    letters of ISO 3166-1, or blank.
    """

    circle = models.ForeignKey(Circle, models.PROTECT, related_name="drives")
    name = models.CharField(gettext_lazy("name"), max_length=100)
    purpose = models.TextField(gettext_lazy("what for"), max_length=LONGEST_PURPOSE, blank=True)
    recipient = models.CharField(gettext_lazy("recipient"), max_length=200, blank=True)
    country = models.CharField(gettext_lazy("country"), max_length=2, blank=True)
    for_babies = models.BooleanField(gettext_lazy("for babies"), default=False)
    deadline = models.DateField(gettext_lazy("wanted by"), null=True, blank=True)
    mode = models.CharField(
        gettext_lazy("how we work"), max_length=10, choices=Mode, default=Mode.TOGETHER
    )
    claim_limit = models.PositiveSmallIntegerField(
        gettext_lazy("squares in hand at once"), default=2
    )
    claim_days = models.PositiveSmallIntegerField(gettext_lazy("days for a square"), default=14)
    grace_days = models.PositiveSmallIntegerField(
        gettext_lazy("days of grace when late"), default=7
    )
    at_once = models.PositiveSmallIntegerField(
        gettext_lazy("people at work on one piece"), null=True, blank=True
    )
    passing = models.CharField(
        gettext_lazy("when a piece is passed on"),
        max_length=10,
        choices=[(each.value, words) for each, words in PASSING.items()],
        default=Passing.AFTER_EACH.value,
        db_default=Passing.AFTER_EACH.value,
    )
    meet_every = models.PositiveSmallIntegerField(
        gettext_lazy("days from meeting to meeting"), null=True, blank=True
    )
    hand_over_days = models.PositiveSmallIntegerField(
        gettext_lazy("days for a hand-over"), default=3
    )
    created_at = models.DateTimeField(gettext_lazy("made"))

    class Meta:
        ordering = ["-created_at", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=LessThanOrEqual(Length("purpose"), LONGEST_PURPOSE),
                name="purpose_within_reason",
            ),
            models.CheckConstraint(
                condition=models.Q(mode__in=Mode.values), name="drive_mode_known"
            ),
            models.CheckConstraint(
                condition=models.Q(passing__in=[each.value for each in PASSING]),
                name="drive_passing_known",
            ),
            models.CheckConstraint(
                condition=models.Q(meet_every=None) | models.Q(meet_every__range=(1, 365)),
                name="drive_meets_within_reason",
            ),
            models.CheckConstraint(
                condition=models.Q(claim_limit__range=(1, 20)), name="claim_limit_within_reason"
            ),
            models.CheckConstraint(
                condition=models.Q(claim_days__range=(1, 365)) & models.Q(grace_days__lte=365),
                name="claim_days_within_reason",
            ),
            models.CheckConstraint(
                condition=models.Q(at_once=None) | models.Q(at_once__range=(1, 50)),
                name="people_on_a_piece_within_reason",
            ),
            models.CheckConstraint(
                condition=models.Q(hand_over_days__lte=60), name="hand_over_days_within_reason"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def room_on_a_piece(self) -> int | None:
        """How many may work on one piece at a time; None for any number.

        Unless the organiser says otherwise: a travelling piece has one pair of hands, around one
        table everybody finds room.
        """
        return self.at_once or (1 if self.mode == Mode.TRAVELLING else None)

    @property
    def one_pair_of_hands(self) -> bool:
        """Whether only who has a piece can work on it."""
        return self.mode == Mode.TRAVELLING and self.room_on_a_piece == 1
