"""What may be chosen about a printed document."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models import Circle
from drives.craft.knitter import Hand


class Paper(models.TextChoices):
    """The papers that printers hold; the values are CSS page sizes."""

    A4 = "A4", gettext_lazy("A4")
    LETTER = "Letter", gettext_lazy("US Letter")


class Ink(models.TextChoices):
    """What the printer has."""

    COLOUR = "colour", gettext_lazy("colour")
    BLACK = "black", gettext_lazy("black and white")


class Print(models.TextChoices):
    """The size of the type."""

    NORMAL = "normal", gettext_lazy("normal print")
    LARGE = "large", gettext_lazy("large print")


@dataclass(frozen=True, kw_only=True)
class Options:
    """The choices of who asks for a document; what a kind has no use for is left at its default.

    ``english`` blank is the circle's own. ``piece`` is the id of the one that a label is for.
    Cards: ``places`` by name (none: all squares that are ready), ``to_a_page`` 1 or 2, ``hand``
    for squares that nobody has claimed. A wall map is ``tiled`` over pages of ``paper``, or else
    on one sheet of A3. ``meeting`` is the id of the one that lists are made for.
    """

    paper: str = Paper.A4
    ink: str = Ink.COLOUR
    print: str = Print.NORMAL
    english: str = ""
    piece: int | None = None
    places: tuple[str, ...] = ()
    to_a_page: int = 1
    hand: str = Hand.RIGHT
    tiled: bool = True
    meeting: int | None = None

    @classmethod
    def read(cls, stored: Mapping[str, Any]) -> Options:
        """From a row's JSON."""
        return cls(**{**stored, "places": tuple(stored.get("places", ()))})

    def stored(self) -> dict[str, Any]:
        """For a row's JSON: the paper, and what differs from its default."""
        usual = asdict(Options())
        return {
            name: list(value) if isinstance(value, tuple) else value
            for name, value in asdict(self).items()
            if name == "paper" or value != usual[name]
        }

    @property
    def in_colour(self) -> bool:
        return self.ink == Ink.COLOUR

    @property
    def large(self) -> bool:
        return self.print == Print.LARGE

    def english_in(self, circle: Circle) -> str:
        """Whose words of the trade the document uses."""
        return self.english or circle.english

    def locale_in(self, circle: Circle) -> str:
        """Whose words, dates and numbers the document uses."""
        return circle.locale_with(self.english_in(circle))
