"""The yarn store of a circle, and where its grams went."""

from __future__ import annotations

from typing import Any

from django.apps import apps
from django.core.validators import RegexValidator
from django.db import models
from django.db.models import OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce
from django.utils.translation import gettext_lazy

from accounts.models import Circle, Member
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre, Fibres
from drives.craft.receivers.yarn_rules import YarnFacts
from drives.craft.yarn.lots import Strand
from drives.craft.yarn.weighing import Swatch
from drives.drawing.vision import dark

from . import told_care

CATEGORY_CHOICES = [(number, str(number)) for number in range(8)]


class Yarn(models.Model):
    """One yarn in one dye lot. ``grams`` are those in the store; see ``Holding`` for the others.

    ``colour`` is its name, ``value`` how it is drawn. ``fibres`` are per cent by ``Fibre``, null
    where nobody knows them. ``category``: of the Craft Yarn Council. ``care`` as in ``told_care``.
    ``fast``: whether its dye stayed in a soaked swatch, null where nobody has tried. ``given_by``
    is told of those who agreed alone.
    ``price``: of a ball, in the circle's currency.
    A swatch of ``swatch_stitches`` × ``swatch_rows`` weighs ``swatch_grams``.
    """

    circle = models.ForeignKey(Circle, models.PROTECT, related_name="yarns")
    colour = models.CharField(gettext_lazy("colour"), max_length=40)
    value = models.CharField(
        gettext_lazy("how it looks"), max_length=7, validators=[RegexValidator(r"^#[0-9a-f]{6}$")]
    )
    dye_lot = models.CharField(gettext_lazy("dye lot"), max_length=40, blank=True)
    category = models.PositiveSmallIntegerField(
        gettext_lazy("yarn weight category"), choices=CATEGORY_CHOICES, null=True, blank=True
    )
    fibres = models.JSONField(gettext_lazy("fibres"), null=True, blank=True)
    metres_per_100_grams = models.PositiveSmallIntegerField(
        gettext_lazy("metres in 100 g"), null=True, blank=True
    )
    ball_grams = models.PositiveSmallIntegerField(
        gettext_lazy("grams in a ball"), null=True, blank=True
    )
    price = models.DecimalField(
        gettext_lazy("price of a ball"), max_digits=8, decimal_places=2, null=True, blank=True
    )
    care = models.JSONField(gettext_lazy("care"), default=dict, blank=True)
    fast = models.BooleanField(gettext_lazy("colour-fast"), null=True, blank=True)
    swatch_stitches = models.PositiveSmallIntegerField(
        gettext_lazy("stitches in a swatch"), null=True, blank=True
    )
    swatch_rows = models.PositiveSmallIntegerField(
        gettext_lazy("rows in a swatch"), null=True, blank=True
    )
    swatch_grams = models.DecimalField(
        gettext_lazy("grams of the swatch"), max_digits=5, decimal_places=1, null=True, blank=True
    )
    given_by = models.CharField(gettext_lazy("given by"), max_length=100, blank=True)
    place = models.CharField(gettext_lazy("where it is"), max_length=100, blank=True)
    grams = models.PositiveIntegerField(gettext_lazy("grams in the store"), default=0)
    added_at = models.DateTimeField(gettext_lazy("added"))

    class Meta:
        ordering = ["colour", "dye_lot", "id"]
        constraints = [
            models.CheckConstraint(condition=Q(grams__gte=0), name="store_never_below_nothing"),
            models.CheckConstraint(
                condition=Q(category=None) | Q(category__lte=7), name="yarn_category_known"
            ),
            models.CheckConstraint(condition=~Q(colour=""), name="yarn_has_a_colour"),
            models.CheckConstraint(
                condition=(Q(ball_grams=None) | Q(ball_grams__gt=0))
                & (Q(price=None) | Q(price__gte=0)),
                name="ball_weighs_something",
            ),
            models.CheckConstraint(
                condition=Q(swatch_stitches=None, swatch_rows=None, swatch_grams=None)
                # Not only > 0: a check that is neither true nor false, as of null, passes.
                | Q(
                    swatch_stitches__isnull=False,
                    swatch_rows__isnull=False,
                    swatch_grams__isnull=False,
                    swatch_stitches__gt=0,
                    swatch_rows__gt=0,
                    swatch_grams__gt=0,
                ),
                name="swatch_has_stitches_rows_and_grams",
            ),
            models.UniqueConstraint(
                fields=["circle", "colour", "dye_lot"], name="one_yarn_per_colour_and_dye_lot"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.colour} ({self.dye_lot})" if self.dye_lot else self.colour

    @property
    def swatch(self) -> Swatch | None:
        if self.swatch_stitches is None or self.swatch_rows is None or self.swatch_grams is None:
            return None
        return Swatch(self.swatch_stitches, self.swatch_rows, float(self.swatch_grams))

    @property
    def told_fibres(self) -> Fibres | None:
        if self.fibres is None:
            return None
        return {Fibre(fibre): share for fibre, share in self.fibres.items()}

    @property
    def told_care(self) -> Care:
        return told_care.read_care(self.care)

    @property
    def strand(self) -> Strand:
        """What it must have in common with another lot of its colour."""
        return Strand(self.category, self.told_fibres)

    @property
    def dark(self) -> bool:
        """Whether it is of the dark colours, which bleed most."""
        return dark(self.value)

    @property
    def facts(self) -> YarnFacts:
        """What the receiver's rules are held against."""
        return YarnFacts(str(self), self.told_fibres, self.told_care, self.fast, self.dark)


def with_hands(yarns: QuerySet[Yarn], member: Member) -> QuerySet[Yarn]:
    """Each with the grams ``in_hands`` of anybody, and those of them (``own``) of ``member``.

    ``reserved``: for any blanket, of all that there is.
    By colour and dye lot: what is grouped has no order of its own.
    """
    own = Q(holdings__member=member)
    return yarns.annotate(
        in_hands=Sum("holdings__grams", default=0),
        own=Sum("holdings__grams", filter=own, default=0),
        # A join would count each of them once for every holding.
        reserved=Coalesce(Subquery(_reserved()), 0),
    ).order_by("colour", "dye_lot", "pk")


def _reserved() -> QuerySet[Any, Any]:
    reserved = apps.get_model("drives", "Reservation").objects.filter(yarn=OuterRef("pk"))
    return reserved.order_by().values("yarn").annotate(all=Sum("grams")).values("all")


class Holding(models.Model):
    """Grams of a yarn in a member's hands."""

    yarn = models.ForeignKey(Yarn, models.PROTECT, related_name="holdings")
    member = models.ForeignKey(Member, models.PROTECT, related_name="holdings")
    grams = models.PositiveIntegerField(gettext_lazy("grams"), default=0)

    class Meta:
        ordering = ["member__name", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["yarn", "member"], name="one_holding_per_yarn_and_member"
            ),
            models.CheckConstraint(condition=Q(grams__gte=0), name="holding_never_below_nothing"),
        ]

    def __str__(self) -> str:
        return f"{self.member}: {self.grams} g {self.yarn}"


class YarnWay(models.TextChoices):
    """How grams move; see ``Move``."""

    RECEIVED = "received", gettext_lazy("given or bought")
    HANDED_OUT = "handed-out", gettext_lazy("handed out")
    RETURNED = "returned", gettext_lazy("brought back")
    KNITTED = "knitted", gettext_lazy("knitted up")
    COUNTED = "counted", gettext_lazy("counted again")


class Move(models.Model):
    """One line of the ledger: ``grams`` came into the store (less than 0: left it).

    ``held`` came into the hands of ``member`` (less than 0: left them). What is knitted up leaves
    a member's hands, or the store where nobody was noted to have it. ``from_file``: a file of yarns
    told so. Lines are only appended.
    """

    yarn = models.ForeignKey(Yarn, models.PROTECT, related_name="moves")
    way = models.CharField(max_length=10, choices=YarnWay)
    grams = models.IntegerField(default=0)
    member = models.ForeignKey(Member, models.PROTECT, related_name="yarn_moves", null=True)
    held = models.IntegerField(default=0)
    note = models.CharField(gettext_lazy("note"), max_length=200, blank=True)
    from_file = models.BooleanField(gettext_lazy("told by a file"), default=False)
    by = models.ForeignKey(Member, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(condition=Q(way__in=YarnWay.values), name="move_way_known"),
            models.CheckConstraint(
                condition=Q(held=0) | Q(member__isnull=False), name="held_yarn_has_a_holder"
            ),
            models.CheckConstraint(condition=~Q(grams=0) | ~Q(held=0), name="move_moves_something"),
        ]

    def __str__(self) -> str:
        return f"{self.yarn}: {self.way}"
