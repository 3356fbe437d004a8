"""What is said of a kind of sheet: of a printed document, and of what pages show themselves."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from accounts.models import Member
from drives.actions.paper.kind import Asked, PrintedKind, SheetKind
from drives.models import Blanket, Options, Receiver, Sheet, Yarn
from drives.readings.board import Board
from drives.readings.looks import yarn_looks
from drives.readings.outlook import Outlook, grounds
from shared.basics.text import Text

# One part of a document: drafts of it as HTML, laid out generously at first and then more and
# more closely. The first draft that needs only one page is taken, or else the last.
Part = Iterator[str]


def minded(asked: Asked) -> list[object]:
    """Facts: what the receiver minds, and whether that is confirmed. Every document heeds it."""
    drive = asked.blanket.drive
    told = Receiver.objects.filter(drive=drive).values_list("told", "told_on")
    return [drive.country, list(told)]


def yarn_drawn(asked: Asked) -> list[object]:
    """Facts: how the yarns look in which squares are drawn."""
    return [sorted(yarn_looks(asked.blanket).items())]


def lots_told(asked: Asked) -> list[tuple[int, str]]:
    """A fact: how the dye lots are called that squares are knitted in."""
    yarns = Yarn.objects.filter(squares__blanket=asked.blanket).order_by("pk").distinct()
    return list(yarns.values_list("pk", "dye_lot"))


def minded_and_drawn(asked: Asked) -> list[object]:
    """Facts: both."""
    return [*minded(asked), *yarn_drawn(asked)]


def coordinators_alone(blanket: Blanket, member: Member, options: Options) -> bool:
    """Only those who look after others may have it made."""
    return False


@dataclass(frozen=True, kw_only=True)
class Document(PrintedKind):
    """A kind of document that is printed.

    ``label`` is what it is called, ``purpose`` a sentence on what it is good for, ``note`` one
    more about its choices. ``needs`` are those of ``uses`` that it cannot do without. It is
    ``usual`` if most who print want it, and ``told_on`` names the address, of a blanket, where
    one says what stands in it.

    ``parts`` gather what it shows and write it with a template in ``templates/sheets``; ``style``
    is a style sheet beside the kind, for what ``sheet.css`` does not say.

    ``members_read``: any member may open one. ``members_ask``: whether this member may have it
    made. Who looks after others always may.
    """

    label: Text
    purpose: Text
    parts: Callable[[Sheet, datetime], Sequence[Part]]
    facts: Callable[[Asked], list[object]] = minded
    note: Text = ""
    needs: tuple[str, ...] = ()
    usual: bool = False
    told_on: str = ""
    style: str = ""
    members_read: bool = False
    members_ask: Callable[[Blanket, Member, Options], bool] = coordinators_alone


def grounds_of(asked: Asked) -> list[object]:
    """Facts: all that a look ahead is made of."""
    return [grounds(asked.blanket)]


@dataclass(frozen=True, kw_only=True)
class LookAhead(SheetKind):
    """A kind of sheet that is worked out for a page, as JSON.

    ``work_out`` is given the blanket as it stands, the day from which that counts, the options,
    and whom to tell the progress in per cent.
    """

    facts: Callable[[Asked], list[object]] = grounds_of
    work_out: Callable[
        [Board, Outlook, date, Mapping[str, Any], Callable[[int], None]], Mapping[str, Any]
    ]
