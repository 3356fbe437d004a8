"""The sentences of the meeting list."""

from collections.abc import Container, Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Member
from drives.craft.knitter import Hand
from drives.craft.places import Place
from drives.models import Absence, Claim
from drives.readings.board import Board
from drives.readings.rota import Assigned
from drives.readings.whereabouts import Whereabouts
from drives.words.steps import short_line
from shared.basics.lists import listed

from .lists import MOST_READY
from .suggestions import under

Suggested = Mapping[int, Sequence[Place]]


class Could(NamedTuple):
    """A square to begin: its foundation as this knitter works it, and where its pieces are.

    ``planned``: that a coordinator has planned it for them, and for when.
    """

    place: Place
    steps: str
    get: str = ""
    planned: str = ""

    @property
    def words(self) -> str:
        """All that is said of it, in one line."""
        return "; ".join(filter(None, (self.steps, self.get, self.planned)))


class Known(NamedTuple):
    """What the organiser should know, under one heading."""

    heading: str
    lines: Sequence[str]


def brings(board: Board, pieces: Sequence[Whereabouts], member: Member, now: datetime) -> list[str]:
    """What the member has: squares with their dates, then pieces."""
    claims = (claim for claim in _by_day(board) if claim.member_id == member.pk)
    squares = [f"{claim.square}, {_due(claim, now)}" for claim in claims]
    return squares + [
        ngettext("piece %(piece)s, %(count)d square", "piece %(piece)s, %(count)d squares", count)
        % {"piece": there.piece, "count": count}
        for there in pieces
        if there.piece.holder_id == member.pk
        for count in [len(there.places)]
    ]


def hands_on(pieces: Sequence[Whereabouts], member: Member) -> list[str]:
    """What goes from the member to others, and comes from them."""
    told = []
    for there in pieces:
        facts = {"piece": there.piece}
        if agreed := there.hand_over:
            if agreed.giver_id == member.pk:
                words = _("gives piece %(piece)s to %(name)s")
                told.append(words % (facts | {"name": agreed.receiver}))
            elif agreed.receiver_id == member.pk:
                giver = agreed.giver.name if agreed.giver else _("the circle")
                told.append(_("gets piece %(piece)s from %(name)s") % (facts | {"name": giver}))
        waiting = [
            turn.member.name
            for turn in there.queue
            if not (agreed and turn.member_id == agreed.receiver_id)
        ]
        if waiting and there.piece.holder_id == member.pk:
            words = ngettext(
                "%(names)s waits for piece %(piece)s",
                "%(names)s wait for piece %(piece)s",
                len(waiting),
            )
            told.append(words % (facts | {"names": listed(waiting)}))
    return told


def could(
    board: Board,
    pieces: Sequence[Whereabouts],
    member: Member,
    places: Sequence[Place],
    planned: Mapping[str, Assigned],
) -> list[Could]:
    """What is suggested to the member, and what is ``planned`` for them besides.

    Each with its short foundation line in their hand.
    """
    mine = {place: each for place, each in planned.items() if each["member"] == member.pk}
    besides = [Place.parse(place) for place in mine]
    by_id = {there.piece.pk: there for there in pieces}
    told = []
    for place in [*places, *(place for place in besides if place not in places)]:
        steps = short_line(board.plan.foundation(place, Hand(member.hand)))
        elsewhere = [
            _("piece %(piece)s from %(name)s") % {"piece": there.piece, "name": there.piece.holder}
            for there in (by_id[pk] for pk in sorted(under(board, place)) if pk in by_id)
            if there.piece.holder and there.piece.holder_id != member.pk
        ]
        get = _("needs %(pieces)s") % {"pieces": listed(elsewhere)} if elsewhere else ""
        told.append(Could(place, steps, get, _planned(mine.get(str(place)))))
    return told


def _planned(meant: Assigned | None) -> str:
    if meant is None:
        return ""
    day = date_format(date.fromisoformat(meant["begin"]), "MONTH_DAY_FORMAT")
    return _("planned from %(day)s") % {"day": day}


def to_know(
    board: Board,
    pieces: Sequence[Whereabouts],
    coming: Sequence[Member],
    away: Mapping[int, Absence],
    suggested: Suggested,
    planned: Container[str],
    now: datetime,
) -> list[Known]:
    """What is late, what does not come, who is away, what lies with the circle, what is left."""
    here = {member.pk for member in coming}

    def why(member: Member) -> str:
        if absence := away.get(member.pk):
            facts = {"name": member, "day": date_format(absence.last, "MONTH_DAY_FORMAT")}
            return _("%(name)s is away until %(day)s") % facts
        return _("%(name)s has left the circle") % {"name": member}

    nobody = [
        f"{claim.square}: {why(claim.member)}"
        for claim in _by_day(board)
        if claim.member_id not in here
    ] + [
        _("piece %(piece)s: %(why)s") % {"piece": there.piece, "why": why(there.piece.holder)}
        for there in pieces
        if there.piece.holder and there.piece.holder_id not in here
    ]
    promised = {place for places in suggested.values() for place in places}
    left = [
        offer.place
        for offer in board.offers
        if offer.place not in promised and str(offer.place) not in planned
    ]
    known = [
        Known(
            _("Late"),
            [
                f"{claim.square}, {claim.member}, {_due(claim, now)}"
                for claim in _by_day(board)
                if claim.late(now)
            ],
        ),
        Known(_("Nobody comes with"), nobody),
        Known(_("Away"), _names(board, away)),
        Known(_("With the circle: bring"), _kept(pieces)),
        Known(_("Ready, and suggested to nobody"), [listed(left[:MOST_READY])] if left else []),
    ]
    return [each for each in known if each.lines]


def _names(board: Board, away: Mapping[int, Absence]) -> list[str]:
    names = board.blanket.drive.circle.members.filter(pk__in=away).values_list("name", flat=True)
    return [listed(list(names))] if names else []


def _kept(pieces: Sequence[Whereabouts]) -> list[str]:
    """The pieces that nobody has at home."""
    kept = [there.piece.name for there in pieces if there.piece.holder_id is None]
    words = ngettext("piece %(pieces)s", "pieces %(pieces)s", len(kept))
    return [words % {"pieces": listed(kept)}] if kept else []


def _by_day(board: Board) -> list[Claim]:
    return sorted(board.claims.values(), key=lambda claim: (claim.due_at, claim.square.place))


def _due(claim: Claim, now: datetime) -> str:
    words = _("was due %(date)s") if claim.late(now) else _("until %(date)s")
    return words % {"date": date_format(localtime(claim.due_at), "MONTH_DAY_FORMAT")}
