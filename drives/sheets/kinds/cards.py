"""Square cards: all that somebody who works from paper needs to knit one square."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import islice

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.actions.paper.codes import codes_of, link
from drives.craft.knitter import Hand
from drives.craft.layout.foundation import total
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.craft.receivers.cautions import FOR_BABIES, Caution
from drives.drawing import square_svg
from drives.models import Blanket, Options, Sheet
from drives.readings.board import Board, board_of
from drives.readings.checks import rules_of
from drives.readings.looks import looks_on
from drives.sheets.boxes import boxes
from drives.sheets.kind import Document, Part, lots_told, minded_and_drawn
from drives.sheets.qr import qr_svg
from drives.words.cautions import caution_words
from drives.words.diagram import diagram
from drives.words.rows import glossary, stretch_lines
from drives.words.steps import begin_line, foundation_lines, marker_line
from drives.words.yarn import lot_name

MOST_CARDS = 150  # in one document

# Points, by cards to a page; a card that does not fit with the smallest takes as many pages as it
# needs, in the first.
TEXT_SIZES = {1: (14.0, 12.0, 10.5, 9.0), 2: (9.4, 8.8, 8.3, 7.8)}
LARGE = (16.0, 14.0)
LONG = 500  # ridges, whose boxes alone need most of a page: nothing smaller is tried
DRAWING = {1: 85, 2: 60}  # mm, its width …
LARGE_DRAWING = 106  # … with which its counts are as large as the words


def _asked_for(sheet: Sheet, now: datetime) -> list[Part]:
    board = board_of(sheet.blanket)
    asked = [Place.parse(name) for name in sheet.chosen.places]
    places = [place for place in asked if place in board.plan.size] if asked else ready_in(board)
    return cards_of(sheet, board, places, now)


def ready_in(board: Board) -> list[Place]:
    """What can be begun, best first, as far as one document goes."""
    return [offer.place for offer in islice(board.offers, MOST_CARDS)]


def cards_of(sheet: Sheet, board: Board, places: Sequence[Place], now: datetime) -> list[Part]:
    """The cards of these squares, in this order; each page, or each longer card, is a part."""
    options = sheet.chosen
    together = 1 if options.large else options.to_a_page
    codes = _links(sheet, places, now)
    looks = looks_on(board) if options.in_colour else {}
    pages = [places[at : at + together] for at in range(0, len(places), together)]
    # Where there is none, a page says so.
    return [_drafts(sheet, board, page, codes, looks, together, now) for page in pages or [()]]


def _drafts(
    sheet: Sheet,
    board: Board,
    places: Sequence[Place],
    codes: Mapping[Place, str],
    looks: Mapping[Place, str],
    together: int,
    now: datetime,
) -> Part:
    """These cards on one page, with smaller and smaller type; at last on as many as they need."""
    sizes = LARGE if sheet.chosen.large else TEXT_SIZES[together]
    long = any(board.plan.side_stitches(place) > LONG for place in places)
    cards = [_card(sheet, board, place, codes[place], looks) for place in places]
    facts = {
        "sheet": sheet,
        "options": sheet.chosen,
        "now": now,
        "cards": cards,
        "minding": caution_words(
            *(FOR_BABIES if rules_of(sheet.blanket.drive).for_babies else ()), Caution.STOP
        ),
        "together": together,
        "drawing": LARGE_DRAWING if sheet.chosen.large else DRAWING[together],
    }
    for points, flows in [*((points, False) for points in sizes if not long), (sizes[0], True)]:
        yield render_to_string("sheets/cards.html", facts | {"points": points, "flows": flows})


def _card(
    sheet: Sheet, board: Board, place: Place, address: str, looks: Mapping[Place, str]
) -> dict[str, object]:
    plan, options = board.plan, sheet.chosen
    claim, lot = board.claims.get(place), board.lots.get(place)
    hand = Hand(claim.member.hand if claim else options.hand)
    mitre, stitches = plan.layout.mitre, plan.side_stitches(place)
    steps = plan.foundation(place, hand)
    code = _("Code that opens the page of square %(place)s") % {"place": place}
    return {
        "place": place,
        "claim": claim,
        "waits_for": [on for on in plan.stands_on[place] if on not in board.finished],
        "colour": board.colours.get(place, ""),
        "lot": lot_name(lot.dye_lot) if lot else "",
        "hand": hand,
        "drawing": square_svg(
            plan,
            place,
            hand,
            state_of=board.state_of,
            looks=looks,
            prefix=f"at-{place}",
            **diagram(plan, place, hand),
        ),
        "code": qr_svg(address, title=code),
        "steps": foundation_lines(plan, place, hand),
        "total": total(steps),
        "marker": marker_line(steps, mitre),
        "begin": begin_line(steps),
        "stretches": stretch_lines(stitches, mitre),
        "stitches": stitches,
        "boxes": list(boxes(stitches, mitre, large=options.large)),
        "glossary": glossary(mitre),
    }


def _links(sheet: Sheet, places: Sequence[Place], now: datetime) -> dict[Place, str]:
    """Where each square's code leads."""
    squares = list(sheet.blanket.squares.at_any(places))
    codes = codes_of(sheet.blanket, squares, now=now)
    return {square.place: link(codes[square.pk]) for square in squares}


def _to_knit_from(blanket: Blanket, member: Member, options: Options) -> bool:
    """Whether these are squares that the member has in hand, or that are ready."""
    board = board_of(blanket)
    mine = {place for place, claim in board.claims.items() if claim.member_id == member.pk}
    places = map(Place.parse, options.places)
    return bool(options.places) and all(
        place in mine or board.state_of.get(place) is State.READY for place in places
    )


CARDS = Document(
    code="cards",
    label=gettext_lazy("square cards"),
    purpose=gettext_lazy(
        "For who knits from paper: the first stitches, the rows, a box to tick for each ridge, "
        "the due date, and a code that leads back here."
    ),
    uses=("places", "to_a_page", "hand"),
    facts=lambda asked: [*minded_and_drawn(asked), lots_told(asked)],
    parts=_asked_for,
    style="cards.css",
    usual=True,
    members_read=True,
    members_ask=_to_knit_from,
)
