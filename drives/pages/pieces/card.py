"""A piece as one member sees it: where it is, who waits for it, what they may do about it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.safestring import SafeString

from accounts.access import may
from accounts.models import Member, Role
from drives.actions.rights import HandOverRights, PieceRights, hand_over_rights, piece_rights
from drives.craft.forecast.passing import Step
from drives.craft.places import Place
from drives.models import Mode, Piece, Square, Turn
from drives.pages.common.picture import board_picture
from drives.pages.pieces.proposed import proposed
from drives.readings.board import Board, board_of
from drives.readings.next_steps import NextStep, next_steps
from drives.readings.whereabouts import Whereabouts, whereabouts
from shared.basics.lists import listed
from shared.basics.refusals import Refused


@dataclass(frozen=True)
class PieceCard:
    """What is shown of a live piece to ``me``, and which presses they may make."""

    there: Whereabouts
    me: Member
    today: date
    step: NextStep | None = None

    @property
    def piece(self) -> Piece:
        return self.there.piece

    @property
    def squares(self) -> str:
        return listed(self.there.places)

    @property
    def travels(self) -> bool:
        return self.piece.blanket.drive.mode == Mode.TRAVELLING

    @property
    def looks_after(self) -> bool:
        return may(self.me, Role.COORDINATOR)

    @cached_property
    def rights(self) -> PieceRights:
        return piece_rights(self.piece, self.me, in_line=self.my_turn > 0)

    @cached_property
    def hand_over_rights(self) -> HandOverRights | None:
        """What the reader may do with the hand-over under way."""
        under_way = self.there.hand_over
        return hand_over_rights(under_way, self.me) if under_way else None

    @property
    def told(self) -> list[str]:
        """What is proposed to whoever has the piece."""
        return proposed(self.step) if self.step else []

    @property
    def gives(self) -> bool:
        """Whether the reader has the piece, and is to give it to who is first in line."""
        return self.step is not None and self.step.do is Step.GIVE and self.rights.mine

    @property
    def goes_on(self) -> Place | None:
        """The square that the reader, who has the piece, is to begin on it."""
        if self.step is None or self.step.do is not Step.BEGIN or not self.rights.mine:
            return None
        return self.step.squares[0]

    @property
    def my_turn(self) -> int:
        return self.there.turn_of(self.me)

    @property
    def queue(self) -> list[tuple[Turn, date]]:
        """Those who wait, each with about when the piece may come to them at the earliest."""
        meets = self.step and self.step.day
        return [
            (turn, self.there.expected(number - bool(meets), meets or self.today))
            for number, turn in enumerate(self.there.queue, 1)
        ]

    @property
    def my_contact(self) -> str:
        """What the reader told the other."""
        return self._contacts[0]

    @property
    def their_contact(self) -> str:
        """What the other told the reader."""
        return self._contacts[1]

    @property
    def _contacts(self) -> tuple[str, str]:
        """The reader's and the other's; nothing for anybody but the two."""
        under_way, rights = self.there.hand_over, self.hand_over_rights
        if under_way is None or rights is None or not (rights.gives or rights.gets):
            return "", ""
        told = under_way.giver_contact, under_way.receiver_contact
        return told if rights.gives else told[::-1]


def cards(board: Board, me: Member, pieces: Iterable[int] | None = None) -> list[PieceCard]:
    """The live pieces of a blanket, or those with these ids."""
    ids = None if pieces is None else set(pieces)
    today = timezone.localdate()
    found = whereabouts(board, ids)
    steps = next_steps([board], found, today)
    return [PieceCard(there, me, today, steps.get(there.piece.pk)) for there in found]


def page(
    request: HttpRequest, piece: Piece, me: Member, refused: Refused | None = None
) -> HttpResponse:
    """The piece as it is now, or what became of it; ``refused`` is told first, as a 409."""
    board = board_of(piece.blanket)
    card = next(iter(cards(board, me, [piece.pk])), None)
    facts = {
        "refused": refused,
        "me": me,
        "piece": piece,
        "blanket": piece.blanket,
        "drive": piece.blanket.drive,
        "card": card,
        "map": _map(board, card, me) if card else "",
        "now_in": None if card else _now_in(piece),
    }
    return render(request, "drives/pieces/piece.html", facts, status=409 if refused else 200)


def _map(board: Board, card: PieceCard, me: Member) -> SafeString:
    """The piece with the squares around it."""
    layout, places, size = board.plan.layout, card.there.places, board.plan.size
    first = Place(
        max(min(place.column for place in places) - 1, 1),
        max(min(place.row for place in places) - 1, 1),
    )
    last = Place(
        min(max(place.column + size[place] for place in places), layout.columns),
        min(max(place.row + size[place] for place in places), layout.rows),
    )
    return board_picture(board, me, timezone.now(), [card.there], part=(first, last))


def _now_in(piece: Piece) -> Piece | None:
    """The piece that one which ended now belongs to, if its first square is still finished."""
    square = Square.objects.filter(blanket=piece.blanket).at(Place.parse(piece.name)).first()
    return square.piece if square else None
