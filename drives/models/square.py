"""One square of a blanket, and how far it is."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.craft.layout.layout import UNITS_WIDE
from drives.craft.layout.rows import rows_of
from drives.craft.layout.states import State
from drives.craft.places import LIMIT, Place

from .blanket import Blanket
from .piece import Piece
from .yarn import Yarn

if TYPE_CHECKING:
    from .claim import Claim


class StoredState(models.TextChoices):
    """The facts that are stored; *waiting* and *ready* are open squares, told by ``unmet``."""

    OPEN = "open", gettext_lazy("not begun")
    TAKEN = "taken", gettext_lazy("taken")
    FINISHED = "finished", gettext_lazy("finished")


class SquareQuerySet(models.QuerySet["Square"]):
    """Squares, by what can be done with them."""

    def ready(self) -> SquareQuerySet:
        """Open, and everything they stand on is finished."""
        return self.filter(state=StoredState.OPEN, unmet=0)

    def at(self, place: Place) -> SquareQuerySet:
        """The one at this place (of each blanket)."""
        return self.at_any([place])

    def at_any(self, places: Iterable[Place]) -> SquareQuerySet:
        """Those at these places (of each blanket)."""
        one_of = [models.Q(column=place.column, row=place.row) for place in places]
        return self.filter(reduce(or_, one_of)) if one_of else self.none()


class Square(models.Model):
    """The square at a place (its bottom-left one), ``size`` units wide.

    ``unmet`` is how many of the squares it stands on are unfinished, kept in the transaction
    that finishes or rips one of them. The constraint on it makes the rule of the craft a fact of
    the database: nothing taken or finished ever stands on an unfinished square.

    ``colour_fixed``: somebody chose its colour, and a colour plan keeps it. ``dye_lot``: the yarn
    of its colour that it is knitted in, where several dye lots of it were chosen. ``grams`` is what
    it weighed when it was finished.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="squares")
    column = models.PositiveSmallIntegerField(gettext_lazy("column"))
    row = models.PositiveSmallIntegerField(gettext_lazy("row"))
    size = models.PositiveSmallIntegerField(gettext_lazy("units wide"), default=1)
    colour = models.CharField(gettext_lazy("colour"), max_length=40, blank=True)
    colour_fixed = models.BooleanField(default=False)
    dye_lot = models.ForeignKey(Yarn, models.SET_NULL, related_name="squares", null=True)
    grams = models.DecimalField(
        gettext_lazy("weight in grams"), max_digits=6, decimal_places=1, null=True, blank=True
    )
    state = models.CharField(
        gettext_lazy("state"), max_length=8, choices=StoredState, default=StoredState.OPEN
    )
    unmet = models.PositiveSmallIntegerField(default=0)
    finished_at = models.DateTimeField(gettext_lazy("finished"), null=True)
    knitter = models.ForeignKey(Member, models.PROTECT, related_name="knitted", null=True)
    piece = models.ForeignKey(Piece, models.SET_NULL, related_name="squares", null=True)

    objects = SquareQuerySet.as_manager()

    class Meta:
        ordering = ["row", "column"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "column", "row"], name="one_square_per_place"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    column__range=(1, LIMIT),
                    row__range=(1, LIMIT),
                    size__range=(UNITS_WIDE[0], UNITS_WIDE[-1]),
                ),
                name="square_within_limits",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=StoredState.values), name="square_state_known"
            ),
            models.CheckConstraint(
                condition=models.Q(state=StoredState.OPEN) | models.Q(unmet=0),
                name="nothing_begun_stands_on_unfinished",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    state=StoredState.FINISHED, finished_at__isnull=False, knitter__isnull=False
                )
                | (
                    ~models.Q(state=StoredState.FINISHED) & models.Q(finished_at=None, knitter=None)
                ),
                name="finished_has_a_date_and_a_knitter",
            ),
            models.CheckConstraint(
                condition=models.Q(grams=None) | models.Q(state=StoredState.FINISHED, grams__gt=0),
                name="only_finished_squares_are_weighed",
            ),
        ]
        indexes = [models.Index(fields=["blanket", "state", "unmet"], name="squares_by_state")]

    def __str__(self) -> str:
        return str(self.place)

    @property
    def place(self) -> Place:
        return Place(self.column, self.row)

    @property
    def told_state(self) -> State:
        """What people are told of it, by this row alone."""
        if self.state == StoredState.OPEN:
            return State.WAITING if self.unmet else State.READY
        return State(self.state)

    @property
    def side_stitches(self) -> int:
        """Stitches along one side."""
        return self.blanket.side_stitches(self.size)

    @property
    def rows_to_knit(self) -> int:
        """How many rows it has, without the foundation."""
        return rows_of(self.side_stitches)

    def open_claim(self) -> Claim | None:
        """Whose hands it is in, with its member: one query."""
        return self.claims.open().select_related("member").first()
