"""What each could begin next: as the rota has it, and where it says nothing, as squares come."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence, Set
from datetime import date, timedelta
from itertools import chain

from accounts.models import Member
from drives.craft.layout.spread import spread
from drives.craft.places import Place
from drives.models import Blanket, Claim
from drives.readings.accepted import standing
from drives.readings.board import Board
from drives.readings.rota import Assigned, assigned, planned_for_others
from drives.readings.whereabouts import Whereabouts

SOON = timedelta(days=7)  # what begins later is nobody's next square yet


def under(board: Board, place: Place) -> frozenset[int]:
    """The ids of the pieces that the square at ``place`` is worked on."""
    supports = board.plan.stands_on[place]
    return frozenset(board.piece_of[each] for each in supports if each in board.piece_of)


class Meant:
    """What the rotas of some blankets have for whom, with what was accepted; two queries."""

    def __init__(self, blankets: Collection[Blanket], today: date) -> None:
        self._said = standing(blankets, today) if blankets else {}
        self._found = assigned(blankets, today, self._said) if blankets else {}
        self._until = (today + SOON).isoformat()

    def ready(self, board: Board, member: int) -> list[Assigned]:
        """The squares for the member that are ready, soon."""
        return self.all_ready(board).get(member, [])

    def all_ready(self, board: Board) -> dict[int, list[Assigned]]:
        """By member: theirs that are ready, soon."""
        ready = {str(offer.place) for offer in board.offers}
        found: dict[int, list[Assigned]] = {}
        for each in self._found.get(board.blanket.pk, ()):
            if each["place"] in ready and each["begin"] <= self._until:
                found.setdefault(each["member"], []).append(each)
        return found

    def next(self, board: Board, member: int) -> Assigned | None:
        """The first for the member that nobody has begun; it may wait for others."""
        begun = {str(place) for place in board.finished | board.taken}
        mine = (
            each
            for each in self._found.get(board.blanket.pk, ())
            if each["member"] == member and each["place"] not in begun
        )
        return next(mine, None)

    def planned(self, board: Board) -> dict[str, Assigned]:
        """What coordinators have planned, for anybody, and nobody has begun; by square."""
        begun = {str(place) for place in board.finished | board.taken}
        found = self._found.get(board.blanket.pk, ())
        return {
            each["place"]: each
            for each in found
            if each["accepted"] and each["place"] not in begun and each["begin"] <= self._until
        }

    def declined(self, blanket: Blanket) -> dict[Place, set[int]]:
        """Whom a square is not for."""
        found: dict[Place, set[int]] = {}
        for line in self._said.get(blanket.pk, ()):
            if line.begin is None:
                found.setdefault(line.place, set()).add(line.member.pk)
        return found

    def for_others(self, blanket: Blanket, member: int | None = None) -> set[str]:
        """The squares that are planned for somebody else."""
        return planned_for_others(self._found.get(blanket.pk, ()), member)


def suggestions(
    board: Board, pieces: Sequence[Whereabouts], coming: Sequence[Member], by_rota: Meant
) -> dict[int, list[Place]]:
    """Squares that are ready, the best first, by the ids of knitters who come; one query.

    First what the rota has for them; what is planned for somebody else is no suggestion. Then who
    has the fewest squares in hand is served first, nobody above the drive's limit. Pieces that are
    not brought are left alone, those that are promised are for whom they are promised to, and where
    only one can work on a piece at a time it is one who is suggested.
    """
    drive = board.blanket.drive
    open_claims = Claim.objects.open().filter(square__blanket__drive=drive)
    in_hand = Counter(open_claims.order_by().values_list("member", flat=True))
    knitters = [member for member in coming if member.is_volunteer]
    knitters.sort(key=lambda member: (in_hand[member.pk], member.name, member.pk))
    here = {member.pk for member in coming} | {None}
    absent = {there.piece.pk for there in pieces if there.piece.holder_id not in here}
    most = drive.room_on_a_piece
    planned = by_rota.planned(board)
    offered = [offer.place for offer in board.offers]
    needs = {place: under(board, place) for place in offered}
    travels = drive.one_pair_of_hands
    open_to_all = [place for place in offered if not (travels and needs[place] & absent)]
    room = {member.pk: max(drive.claim_limit - in_hand[member.pk], 0) for member in knitters}
    at_work = {there.piece.pk: _at_work(there, alone=travels) for there in pieces}
    first = _by_rota(by_rota.all_ready(board), open_to_all, room, needs, at_work, most)
    rest = spread(
        [
            place
            for place in open_to_all
            if str(place) not in planned and not any(place in mine for mine in first.values())
        ],
        # Who has one by the rota is served after those who have none.
        {
            member: room[member] - len(first[member])
            for member in sorted(room, key=lambda member: len(first[member]))
        },
        pieces=needs,
        at_work=at_work,
        most=most,
        holders={there.piece.pk: there.piece.holder_id for there in pieces},
        barred=by_rota.declined(board.blanket),
    )
    return {member: [*first[member], *rest[member]] for member in room}


def _by_rota(
    mine: Mapping[int, Sequence[Assigned]],
    places: Sequence[Place],
    room: Mapping[int, int],
    needs: Mapping[Place, Set[int]],
    at_work: dict[int, Set[int]],
    most: int | None,
) -> dict[int, list[Place]]:
    """One square for each whom the rota gives one, where it can be; they are ``at_work`` then."""
    by_name = {str(place): place for place in places}
    first: dict[int, list[Place]] = {member: [] for member in room}
    in_order = sorted(chain.from_iterable(mine.values()), key=lambda each: each["begin"])
    for each in in_order:
        member, place = each["member"], by_name.get(each["place"])
        if place is None or not room.get(member) or first[member]:
            continue
        working = {piece: at_work.get(piece, frozenset()) | {member} for piece in needs[place]}
        if most is None or all(len(people) <= most for people in working.values()):
            first[member].append(place)
            at_work |= working
    return first


def _at_work(there: Whereabouts, *, alone: bool) -> Set[int]:
    """Who knits on the piece; where only one can, the one it is promised to, or who waits first."""
    if alone and there.hand_over:
        return {there.hand_over.receiver_id}
    working = {claim.member_id for claim in there.needles}
    if alone and not working and there.queue:
        return {there.queue[0].member_id}
    return working
