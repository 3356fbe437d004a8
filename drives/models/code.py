"""Codes on paper that lead back into the site, and what finders leave there."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Circle, Member

from .blanket import Blanket
from .piece import Piece
from .square import Square


class CodeQuerySet(models.QuerySet["Code"]):
    """Codes, by whether they still lead anywhere."""

    def live(self) -> CodeQuerySet:
        return self.filter(ended_at=None)

    def of_blanket(self, blanket: Blanket) -> CodeQuerySet:
        return self.filter(Q(square__blanket=blanket) | Q(piece__blanket=blanket))

    def of_circle(self, circle: Circle) -> CodeQuerySet:
        return self.filter(
            Q(square__blanket__drive__circle=circle) | Q(piece__blanket__drive__circle=circle)
        )


class Code(models.Model):
    """What stands in a QR code for one square or one piece: ``slug``, which is random.

    One that was renewed has ``ended_at`` and leads nowhere any more.
    """

    slug = models.CharField(max_length=16, unique=True)
    square = models.ForeignKey(Square, models.CASCADE, related_name="codes", null=True)
    piece = models.ForeignKey(Piece, models.CASCADE, related_name="codes", null=True)
    made_at = models.DateTimeField(gettext_lazy("made"))
    ended_at = models.DateTimeField(gettext_lazy("renewed"), null=True)

    objects = CodeQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(square=None, piece__isnull=False) | Q(square__isnull=False, piece=None),
                name="code_is_for_one_thing",
            ),
            models.UniqueConstraint(
                fields=["square"], condition=Q(ended_at=None), name="one_live_code_per_square"
            ),
            models.UniqueConstraint(
                fields=["piece"], condition=Q(ended_at=None), name="one_live_code_per_piece"
            ),
        ]

    def __str__(self) -> str:
        return self.slug

    @property
    def target(self) -> Square | Piece:
        """What it stands on."""
        target = self.square or self.piece
        assert target
        return target

    @property
    def blanket(self) -> Blanket:
        """The blanket that its square or piece belongs to."""
        return self.target.blanket


class FinderNoteQuerySet(models.QuerySet["FinderNote"]):
    """Notes, by whether somebody has seen to them."""

    def unread(self) -> FinderNoteQuerySet:
        return self.filter(read_at=None)

    def of(self, codes: CodeQuerySet) -> FinderNoteQuerySet:
        """Those left where these codes lead, with what they are about."""
        found = self.select_related("code__square__blanket", "code__piece__blanket")
        return found.filter(code__in=codes)


class FinderNote(models.Model):
    """What a stranger who scanned a code wants a coordinator to know.

    ``contact`` is wiped when a coordinator has read the note.
    """

    code = models.ForeignKey(Code, models.CASCADE, related_name="notes")
    text = models.TextField(gettext_lazy("message"), max_length=1000)
    contact = models.CharField(gettext_lazy("how to reach you"), max_length=200, blank=True)
    left_at = models.DateTimeField(gettext_lazy("left"))
    read_at = models.DateTimeField(gettext_lazy("seen to"), null=True)
    read_by = models.ForeignKey(Member, models.PROTECT, related_name="+", null=True)

    objects = FinderNoteQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(read_at=None, read_by=None)
                | Q(read_at__isnull=False, read_by__isnull=False, contact=""),
                name="read_note_has_a_reader_and_no_contact",
            ),
        ]

    def __str__(self) -> str:
        return self.text[:40]
