"""One planned blanket. Its squares are rows of their own; its layout follows from both."""

from datetime import datetime
from functools import lru_cache
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models import Event, Topic
from drives.craft.colours.wish import Pattern
from drives.craft.layout.layout import STITCHES, Large, Layout, Mitre, Seam, side_stitches
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import LIMIT, Place

from .drive import Drive

PATTERNS = {
    Pattern.BANDS: gettext_lazy("diagonal bands"),
    Pattern.GRADIENT: gettext_lazy("a gradient"),
    Pattern.CHEQUERED: gettext_lazy("chequered"),
    Pattern.SCATTERED: gettext_lazy("scattered"),
    Pattern.FREE: gettext_lazy("as it comes"),
}
MITRES = {
    Mitre.PAIRED: gettext_lazy("paired"),
    Mitre.CENTRED: gettext_lazy("centred"),
}


def new_layout_key() -> str:
    """For a layout that was never there before."""
    return uuid4().hex


class Blanket(models.Model):
    """``columns`` × ``rows`` units of ``stitches``; gauge in stitches to 10 cm of garter stitch.

    ``seams`` is a list of pairs of places' names. ``layout_version`` grows with every change of
    the layout, and ``layout_key`` is then another one than ever was. The colour plan keeps joined
    squares of one colour ``apart`` if so wished, and those that are sewn together (``over_seams``),
    and leaves ``colour_margin`` per cent of the yarn unused.
    """

    drive = models.ForeignKey(Drive, models.PROTECT, related_name="blankets")
    name = models.CharField(gettext_lazy("name"), max_length=100)
    columns = models.PositiveSmallIntegerField(gettext_lazy("columns"))
    rows = models.PositiveSmallIntegerField(gettext_lazy("rows"))
    stitches = models.PositiveSmallIntegerField(gettext_lazy("stitches along one side"))
    mitre = models.CharField(
        gettext_lazy("mitre"), max_length=7, choices=MITRES, default=Mitre.PAIRED
    )
    corner_trade = models.BooleanField(gettext_lazy("corner trade"), default=True)
    gauge = models.DecimalField(gettext_lazy("gauge"), max_digits=5, decimal_places=2)
    seams = models.JSONField(default=list)
    pattern = models.CharField(
        gettext_lazy("pattern of the colours"),
        max_length=9,
        choices=PATTERNS,
        default=Pattern.BANDS,
    )
    apart = models.BooleanField(
        gettext_lazy("no two squares of one colour side by side"), default=True
    )
    over_seams = models.BooleanField(
        gettext_lazy("nor two with a seam between them"), default=True, db_default=True
    )
    colour_margin = models.PositiveSmallIntegerField(
        gettext_lazy("yarn kept in reserve"), default=10
    )
    layout_version = models.PositiveIntegerField(default=1)
    layout_key = models.CharField(max_length=32, default=new_layout_key, db_default="")
    created_at = models.DateTimeField(gettext_lazy("planned"))

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(columns__range=(1, LIMIT), rows__range=(1, LIMIT)),
                name="blanket_grid_within_limits",
            ),
            models.CheckConstraint(
                condition=models.Q(stitches__range=(STITCHES[0], STITCHES[-1])),
                name="blanket_stitches_within_limits",
            ),
            models.CheckConstraint(
                condition=models.Q(mitre__in=[mitre.value for mitre in Mitre]),
                name="blanket_mitre_known",
            ),
            models.CheckConstraint(condition=models.Q(gauge__gt=0), name="blanket_gauge_positive"),
            models.CheckConstraint(
                condition=models.Q(pattern__in=list(Pattern)), name="blanket_pattern_known"
            ),
            models.CheckConstraint(
                condition=models.Q(colour_margin__lte=100), name="colour_margin_in_per_cent"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def side_stitches(self, units: int) -> int:
        """Stitches along one side of a square so many ``units`` wide."""
        return side_stitches(units, self.stitches)

    def plan(self) -> Plan:
        """The layout thought through; worked out once for each state of a layout in a process."""
        while True:
            try:
                return _plan_of(self.pk, self.created_at, self.layout_version, self.layout_key)
            except _Changed:
                self.refresh_from_db()  # somebody has changed the layout since this row was read

    def layout(self) -> Layout:
        """The layout that the rows describe: what no square covers is missing."""
        sizes = {
            Place(column, row): size
            for column, row, size in self.squares.values_list("column", "row", "size")
        }
        return self.layout_with(sizes, self.seams)

    def layout_with(self, sizes: dict[Place, int], seams: list[list[str]]) -> Layout:
        """This blanket's grid with squares of these ``sizes`` and these ``seams``."""
        large = frozenset(Large(place, size) for place, size in sizes.items() if size > 1)
        covered = {unit for square in large for unit in square.units()} | sizes.keys()
        grid = (
            Place(column, row)
            for row in range(1, self.rows + 1)
            for column in range(1, self.columns + 1)
        )
        return Layout(
            columns=self.columns,
            rows=self.rows,
            stitches=self.stitches,
            mitre=Mitre(self.mitre),
            missing=frozenset(place for place in grid if place not in covered),
            large=large,
            seams=frozenset(
                Seam.between(Place.parse(one), Place.parse(other)) for one, other in seams
            ),
            corner_trade=self.corner_trade,
        )

    def revision(self) -> str:
        """Changes whenever something happens to the blanket."""
        return Event.objects.about(Topic.BLANKET, self.pk).revision()


class _Changed(Exception):
    """The row that was read is not the newest any more."""


@lru_cache(maxsize=64)
def _plan_of(blanket_id: int, created_at: datetime, layout_version: int, layout_key: str) -> Plan:
    """The plan of one state of a layout. Raises ``_Changed``, which is not kept.

    The key never comes twice: neither a change that was rolled back nor a database that was
    restored below us leaves the plan of another layout here. (Layouts of before there were keys
    have none; they differ by the rest.) It is looked at after the squares were read: a change of
    the layout writes both in one transaction, so squares of a newer one never pass for this one's.
    """
    of_key = Blanket.objects.filter(
        pk=blanket_id, layout_version=layout_version, layout_key=layout_key
    )
    blanket = of_key.first()
    if blanket is None:
        raise _Changed
    layout = blanket.layout()
    if not of_key.exists():
        raise _Changed
    return plan(layout)
