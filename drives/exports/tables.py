"""What there is to tell of a blanket, as tables: the same rows for every kind of file."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from django.utils.timezone import get_current_timezone_name, localdate, localtime
from django.utils.translation import gettext as _

from accounts.models import Event, Topic
from drives.craft.layout.foundation import total
from drives.craft.layout.rows import rows_of
from drives.models import Blanket, Claim
from drives.readings.board import board_of
from drives.words.map import STATE_NAMES

Cell = str | int | date | datetime | None
"""A text, a number, a day, or a moment by the circle's clock, without its time zone."""

Sentence = Callable[[Event, Mapping[int, str]], str]
"""An event in words, by the names of members."""

AT_A_TIME = 2000  # rows in memory


class Column(NamedTuple):
    title: str
    width: int  # characters


@dataclass(frozen=True)
class Table:
    """``rows`` can be read once; each has a cell for each of the ``columns``."""

    name: str
    columns: tuple[Column, ...]
    rows: Iterator[tuple[Cell, ...]]


def squares(blanket: Blanket) -> Table:
    """Every square as it stands, from the bottom left."""
    return Table(
        _("Squares"),
        (
            Column(_("Square"), 8),
            Column(_("Column"), 8),
            Column(_("Row"), 6),
            Column(_("Units wide"), 11),
            Column(_("Colour"), 16),
            Column(_("State"), 10),
            Column(_("First stitches"), 14),
            Column(_("Rows to knit"), 13),
            Column(_("Joins onto"), 14),
            Column(_("With"), 24),
            Column(_("Until"), 12),
            Column(_("Knitted by"), 24),
            Column(_timed(_("Finished")), 26),
            Column(_("Piece"), 8),
        ),
        _squares(blanket),
    )


def claims(blanket: Blanket) -> Table:
    """Who took which square, and what became of it, the first first."""
    return Table(
        _("Claims"),
        (
            Column(_("Square"), 8),
            Column(_("Taken by"), 24),
            Column(_timed(_("Taken")), 26),
            Column(_("Due"), 12),
            Column(_("Rows done"), 10),
            Column(_timed(_("Ended")), 26),
            Column(_("How it ended"), 14),
        ),
        _claims(blanket),
    )


def events(blanket: Blanket, sentence: Sentence) -> Table:
    """Everything that happened, the first first; ``sentence`` tells an event in words."""
    return Table(
        _("Events"),
        (
            Column(_timed(_("When")), 26),
            Column(_("Who"), 24),
            Column(_("What"), 20),
            Column(_("In words"), 80),
        ),
        _events(blanket, sentence),
    )


def _squares(blanket: Blanket) -> Iterator[tuple[Cell, ...]]:
    board = board_of(blanket)
    plan = board.plan
    rows = blanket.squares.select_related("knitter", "piece").order_by("row", "column")
    for square in rows.iterator(AT_A_TIME):
        place = square.place
        if place not in plan.size:  # the layout has changed this moment
            continue
        claim = board.claims.get(place)
        yield (
            str(place),
            square.column,
            square.row,
            square.size,
            square.colour,
            str(STATE_NAMES[board.state_of[place]]),
            total(plan.foundation(place)),
            rows_of(plan.side_stitches(place)),
            " ".join(str(support) for support in plan.stands_on[place]),
            claim.member.name if claim else "",
            localdate(claim.due_at) if claim else None,
            square.knitter.name if square.knitter else "",
            _local(square.finished_at),
            square.piece.name if square.piece else "",
        )


def _claims(blanket: Blanket) -> Iterator[tuple[Cell, ...]]:
    rows = Claim.objects.filter(square__blanket=blanket).select_related("square", "member")
    for claim in rows.order_by("taken_at", "pk").iterator(AT_A_TIME):
        yield (
            str(claim.square),
            claim.member.name,
            _local(claim.taken_at),
            localdate(claim.due_at),
            claim.rows_done,
            _local(claim.ended_at),
            str(claim.get_ending_display()),
        )


def _events(blanket: Blanket, sentence: Sentence) -> Iterator[tuple[Cell, ...]]:
    names = dict(blanket.drive.circle.members.values_list("pk", "name"))
    rows = Event.objects.about(Topic.BLANKET, blanket.pk).select_related("by")
    for event in rows.order_by("pk").iterator(AT_A_TIME):
        who = event.by.name if event.by else ""
        yield _local(event.at), who, event.verb, sentence(event, names)


def _timed(title: str) -> str:
    """A column of moments says by which clock."""
    return f"{title} ({get_current_timezone_name()})"


def _local(at: datetime | None) -> datetime | None:
    return localtime(at).replace(tzinfo=None) if at else None
