"""The square card: how to begin, knit and finish one square, for the hand that knits it."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone, translation

from accounts.access import may
from accounts.models import Circle, Member, Role
from drives.actions.rights import square_rights
from drives.craft.forecast.passing import Passing
from drives.craft.knitter import English, Hand
from drives.craft.layout.foundation import total
from drives.craft.layout.layout import Mitre
from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.craft.receivers.cautions import FIBRE_CAUTIONS, FOR_HANDS
from drives.drawing import square_svg
from drives.models import Claim, Drive, Mode, Square
from drives.pages.common.svg import drawn
from drives.pages.pieces.card import PieceCard, cards
from drives.pages.square import finished
from drives.readings.board import Board, board_of
from drives.readings.checks import Check, cautions_of, colour_checks
from drives.readings.looks import looks_on
from drives.readings.supply import due_supply
from drives.words.cautions import caution_words
from drives.words.diagram import diagram
from drives.words.next_steps import passing_words
from drives.words.rows import RowLine, glossary, row_lines, stretch_lines
from drives.words.steps import begin_line, foundation_lines, marker_line
from drives.words.yarn import enough_words, lot_name
from shared.basics.refusals import Refused
from shared.pages.forms import ActionForm

_OTHER = {English.BRITISH: English.AMERICAN, English.AMERICAN: English.BRITISH}


def page(
    request: HttpRequest,
    square: Square,
    me: Member,
    refused: Refused | None = None,
    sent: ActionForm | None = None,
) -> HttpResponse:
    """The card as the square stands now; ``refused`` is told first, as a 409.

    ``sent`` is a form on it that was not right: a 422.
    """
    board = board_of(square.blanket)
    claim, lot = board.claims.get(square.place), board.lots.get(square.place)
    rights = square_rights(square, claim, me)
    state = board.state(square.place)
    hand = _hand(request, claim.member if claim else me)
    drive = square.blanket.drive
    english = _english(request, drive.circle)
    translation.activate(drive.circle.locale_with(english))
    elsewhere = _elsewhere(board, square, me) if state is State.READY else []
    facts = {
        "refused": refused,
        "me": me,
        "square": square,
        "place": square.place,
        "blanket": square.blanket,
        "drive": drive,
        "state": state,
        "claim": claim,
        "mine": rights.mine,
        "rights": rights,
        "late": claim is not None and claim.late(timezone.now()),
        "colour": board.colours.get(square.place, ""),
        "lot": lot_name(lot.dye_lot) if lot else "",
        "elsewhere": elsewhere,
        "passing": passing_words(Passing(drive.passing)) if elsewhere else "",
        "part_of": _part_of(board, square, me) if state is State.FINISHED else None,
        "in_line": bool(elsewhere) and all(needs.my_turn for needs in elsewhere),
        "looks_after": may(me, Role.COORDINATOR),
        "waits_for": [
            other
            for other in board.plan.stands_on[square.place]
            if board.state(other) is not State.FINISHED
        ],
        "carries": [(other, board.state(other)) for other in board.plan.carries[square.place]],
        "hand": hand,
        "english": english,
        "other_hand": _query(Hand.LEFT if hand is Hand.RIGHT else Hand.RIGHT, english),
        "other_english": _query(hand, _OTHER[english]),
        **_instructions(board, square, hand),
        **(counter(claim, square) if rights.mine and claim else {}),
        **finished.finished_facts(square, rights, sent),
        "checks": [] if state is State.FINISHED else _against(drive, square.colour),
        "cautions": caution_words(*cautions_of(drive)),
        "usual": caution_words(*FIBRE_CAUTIONS, *FOR_HANDS),
        "yarn_line": _yarn_line(square, state, mine=rights.mine),
    }
    status = 409 if refused else sent.status if sent else 200
    return render(request, "drives/square/square.html", facts, status=status)


def _against(drive: Drive, colour: str) -> list[Check]:
    """What the receiver would refuse of the square's yarn."""
    return colour_checks([drive], [colour]).get((drive.pk, colour), [])


def counter(claim: Claim, square: Square) -> dict[str, object]:
    """Where the knitter is: the rows done, and the row that comes next."""
    every, done = _rows(square), claim.rows_done
    return {
        "rows_all": len(every),
        "rows_done": done,
        "one_more": done + 1,
        "one_less": done - 1,
        "next_row": every[done] if done < len(every) else None,
    }


def _elsewhere(board: Board, square: Square, me: Member) -> list[PieceCard]:
    """The pieces that one must have for the square, and that others have."""
    if not square.blanket.drive.one_pair_of_hands:
        return []
    supports = board.plan.stands_on[square.place]
    needed = cards(board, me, {board.piece_of[at] for at in supports}) if supports else []
    return [needs for needs in needed if needs.piece.holder_id not in (me.pk, None)]


def _part_of(board: Board, square: Square, me: Member) -> PieceCard | None:
    """The piece that the reader has it in their hands, with what comes next."""
    if square.piece_id is None or square.blanket.drive.mode != Mode.TRAVELLING:
        return None
    if square.piece is None or square.piece.holder_id != me.pk:
        return None
    return next(iter(cards(board, me, [square.piece_id])), None)


def _yarn_line(square: Square, state: State, *, mine: bool) -> str:
    """The warning before the last square that the yarn of its colour surely suffices for."""
    if not square.colour or not (mine or state is State.READY):
        return ""
    supply = due_supply(square)
    return enough_words(supply.colour, supply.enough) if supply else ""


def _instructions(board: Board, square: Square, hand: Hand) -> dict[str, object]:
    """Everything that is to be knitted, in the order of work for ``hand``."""
    plan, place = board.plan, square.place
    mitre = plan.layout.mitre
    return {
        **first_stitches(plan, place, hand),
        "drawing": drawn(
            square_svg(
                plan,
                place,
                hand,
                state_of=board.state_of,
                looks=looks_on(board),
                **diagram(plan, place, hand),
            )
        ),
        "stretches": stretch_lines(square.side_stitches, mitre),
        "rows": _rows(square),
        "glossary": glossary(mitre),
    }


def first_stitches(plan: Plan, place: Place, hand: Hand) -> dict[str, object]:
    """How a square is begun, in the order of work for ``hand``."""
    steps = plan.foundation(place, hand)
    return {
        "steps": foundation_lines(plan, place, hand),
        "marker": marker_line(steps, plan.layout.mitre),
        "begin": begin_line(steps),
        "total": total(steps),
    }


def _rows(square: Square) -> tuple[RowLine, ...]:
    return row_lines(square.side_stitches, Mitre(square.blanket.mitre))


def _hand(request: HttpRequest, knitter: Member) -> Hand:
    """The hand that was asked for, else the knitter's."""
    asked = request.GET.get("hand")
    return Hand(asked if asked in tuple(Hand) else knitter.hand)


def _english(request: HttpRequest, circle: Circle) -> English:
    """The terms that were asked for, else the circle's."""
    asked = request.GET.get("english")
    return English(asked if asked in tuple(English) else circle.english)


def _query(hand: Hand, english: English) -> str:
    return urlencode({"hand": hand, "english": english})
