"""What asking for a sheet must know of its kind. ``drives.sheets.kinds`` says all about each."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from drives.models import Blanket, Options

EVERYWHERE = ("paper", "ink", "print", "english")
"""The choices that every printed document has."""


class Asked(NamedTuple):
    """What a sheet is asked about; ``today`` by the circle's clock."""

    blanket: Blanket
    options: Mapping[str, Any]
    today: date


@dataclass(frozen=True, kw_only=True)
class SheetKind:
    """``code`` stands in its rows.

    ``facts``: all that it shows and that neither an event of the blanket nor the fingerprint's
    own facts tell. They are part of its fingerprint. What takes minutes, or nobody waits for, is
    made ``in_batch``.
    """

    code: str
    in_batch: bool = False
    facts: Callable[[Asked], list[object]]

    def __str__(self) -> str:
        return self.code


def nothing_against(blanket: Blanket, options: Options) -> None:
    """It can be made of any blanket, with any choices."""


@dataclass(frozen=True, kw_only=True)
class PrintedKind(SheetKind):
    """``uses``: its choices beside those of ``EVERYWHERE``.

    ``check`` refuses what cannot be printed any more.
    """

    uses: tuple[str, ...] = ()
    check: Callable[[Blanket, Options], None] = nothing_against

    @property
    def choices(self) -> tuple[str, ...]:
        return (*EVERYWHERE, *self.uses)
