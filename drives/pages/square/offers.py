"""What a knitter could begin now, best first, and why."""

from collections import Counter
from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from django.db.models import Exists, OuterRef
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Member
from drives.craft.forecast.passing import Passing
from drives.craft.layout.states import Offer, offers
from drives.craft.places import Place
from drives.models import Blanket, Claim, Piece, Turn
from drives.pages.common.square_words import elsewhere, reasons
from drives.readings.board import Board
from drives.readings.checks import Check, colour_checks
from drives.readings.rota import Assigned
from drives.sheets.suggestions import Meant
from drives.words.next_steps import passing_words
from drives.words.rota import why
from drives.words.steps import short_line
from shared.basics.lists import listed

MOST_A_BLANKET = 3
Against = Mapping[tuple[int, str], list[Check]]


class PieceElsewhere(NamedTuple):
    """A piece that somebody has, and whether the reader waits for it."""

    piece_id: int
    holder_id: int
    name: str
    in_line: bool


class Suggestion(NamedTuple):
    """One square that can be begun, in words.

    Taking it puts one in line for the pieces that are ``elsewhere``, if there are any.
    """

    place: Place
    colour: str
    line: str
    reasons: list[str]
    elsewhere: list[PieceElsewhere]
    against: list[Check]  # what the receiver would refuse of its yarn

    @property
    def in_line(self) -> bool:
        return bool(self.elsewhere) and all(each.in_line for each in self.elsewhere)


class BlanketOffers(NamedTuple):
    """The best squares of one blanket; ``ready`` counts all that can be begun."""

    blanket: Blanket
    ready: int
    best: list[Suggestion]


def blanket_offers(
    boards: Sequence[Board],
    in_hand: Iterable[Claim],
    members: Collection[Member],
    by_rota: Meant,
) -> list[BlanketOffers]:
    """For each blanket with ready squares, unless the drive's limit is reached ``in_hand``.

    ``members`` are the knitter in each of their circles. What the rota has for them comes first,
    and last what is planned for others. Two queries for all blankets at most.
    """
    counts = Counter(claim.square.blanket.drive_id for claim in in_hand)
    shown = [
        each
        for each in boards
        if each.offers and counts[each.blanket.drive_id] < each.blanket.drive.claim_limit
    ]
    me = {member.circle_id: member.pk for member in members}
    held = _held([each for each in shown if each.blanket.drive.one_pair_of_hands], me.values())
    drives = [board.blanket.drive for board in shown]
    against = colour_checks(drives, {name for board in shown for name in board.colours.values()})
    return [
        _best(
            board,
            held,
            mine,
            against,
            by_rota.ready(board, mine),
            by_rota.for_others(board.blanket, mine),
        )
        for board in shown
        for mine in (me[board.blanket.drive.circle_id],)
    ]


def next_ones(
    boards: Iterable[Board],
    members: Collection[Member],
    shown: Iterable[BlanketOffers],
    by_rota: Meant,
) -> list[str]:
    """What the rota has next for ``members`` of what is not ``shown``, a sentence for a blanket."""
    me = {member.circle_id: member.pk for member in members}
    seen = {(each.blanket.pk, str(square.place)) for each in shown for square in each.best}
    found = []
    for board in boards:
        mine = by_rota.next(board, me[board.blanket.drive.circle_id])
        if mine and (board.blanket.pk, mine["place"]) not in seen:
            found.append(_next_one(board, mine))
    return found


def _next_one(board: Board, mine: Assigned) -> str:
    supports = board.plan.stands_on[Place.parse(mine["place"])]
    waits_for = [place for place in supports if place not in board.finished]
    facts = {
        "place": mine["place"],
        "blanket": board.blanket,
        "day": _day(mine),
        "supports": listed(waits_for),
    }
    if not waits_for:
        if mine["accepted"]:
            return _("Planned for you: %(place)s of “%(blanket)s”, from %(day)s.") % facts
        return _("Next for you: %(place)s of “%(blanket)s”, from %(day)s.") % facts
    if mine["accepted"]:
        text = ngettext(
            "Planned for you: %(place)s of “%(blanket)s”, from %(day)s, "
            "when %(supports)s is finished.",
            "Planned for you: %(place)s of “%(blanket)s”, from %(day)s, "
            "when %(supports)s are finished.",
            len(waits_for),
        )
    else:
        text = ngettext(
            "Next for you: %(place)s of “%(blanket)s”, from %(day)s, "
            "when %(supports)s is finished.",
            "Next for you: %(place)s of “%(blanket)s”, from %(day)s, "
            "when %(supports)s are finished.",
            len(waits_for),
        )
    return text % facts


def best_first(
    board: Board, holder_of: Mapping[int, int], asks: int, for_others: Container[str]
) -> list[Offer]:
    """What can be begun, best first for the member ``asks``; ``holder_of``: members by piece.

    What is planned ``for_others`` comes last.
    """
    holders = {at: holder_of[pk] for at, pk in board.piece_of.items() if pk in holder_of}
    found = (
        offers(board.plan, finished=board.finished, taken=board.taken, holders=holders, asks=asks)
        if holders
        else board.offers
    )
    return sorted(found, key=lambda offer: str(offer.place) in for_others)


def _best(
    board: Board,
    held: Mapping[int, PieceElsewhere],
    asks: int,
    against: Against,
    mine: Sequence[Assigned],
    for_others: Container[str],
) -> BlanketOffers:
    """The best few, and among them at least one that can be begun at once, if there is any.

    Before all of them what the rota has for who ``asks``, behind them what is planned
    ``for_others``.
    """
    ordered = best_first(
        board, {pk: piece.holder_id for pk, piece in held.items()}, asks, for_others
    )
    first = mine[0]["place"] if mine else None
    ordered.sort(key=lambda offer: str(offer.place) != first)
    best = ordered[:MOST_A_BLANKET]
    at_once = next((offer for offer in ordered if not offer.hand_overs), None)
    if at_once and at_once not in best:
        best[-1] = at_once
    told = [_told(board, each, held, asks, against) for each in best]
    if mine and str(told[0].place) == first:
        told[0] = told[0]._replace(reasons=[*_by_rota(mine[0]), *told[0].reasons])
    return BlanketOffers(board.blanket, len(ordered), told)


def _by_rota(mine: Assigned) -> list[str]:
    if mine["accepted"]:
        return [_("It is planned for you, from %(day)s.") % {"day": _day(mine)}]
    return [
        _("This is your next square, from %(day)s.") % {"day": _day(mine)},
        why(mine["why"], mine["waiting"]),
    ]


def _day(mine: Assigned) -> str:
    return date_format(date.fromisoformat(mine["begin"]), "SENTENCE_DAY_FORMAT")


def _told(
    board: Board, offer: Offer, held: Mapping[int, PieceElsewhere], asks: int, against: Against
) -> Suggestion:
    under = {board.piece_of[support] for support in board.plan.stands_on[offer.place]}
    needed = [held[pk] for pk in under if pk in held]
    lacking = [piece for piece in needed if piece.holder_id != asks]
    where = [elsewhere(piece.name, in_line=piece.in_line) for piece in lacking]
    if needed and not lacking:
        where = [_("You have what it is knitted onto.")]
    elif lacking and board.blanket.drive.passing == Passing.KEEP:
        where.append(passing_words(Passing.KEEP))
    colour = board.colours.get(offer.place, "")
    checks = against.get((board.blanket.drive_id, colour), [])
    return Suggestion(
        place=offer.place,
        colour=colour,
        line=short_line(board.plan.foundation(offer.place)),
        reasons=[*reasons(offer), *where],
        elsewhere=lacking,
        against=[check for check in checks if check.overruled is None],
    )


def _held(travelling: Sequence[Board], mine: Collection[int]) -> dict[int, PieceElsewhere]:
    """The pieces of these blankets that somebody has, by their ids; ``mine``: who waits."""
    if not travelling:
        return {}
    live = Piece.objects.live().filter(blanket__in=[board.blanket for board in travelling])
    in_line = Exists(Turn.objects.waiting().filter(piece=OuterRef("pk"), member__in=mine))
    rows = live.exclude(holder=None).values_list("pk", "holder_id", "holder__name", in_line)
    return {row[0]: PieceElsewhere(*row) for row in rows}
