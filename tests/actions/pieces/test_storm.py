"""Many at once who claim, wait for, pass on, rip and lose pieces, on PostgreSQL."""

import random
from collections import Counter
from collections.abc import Callable

import pytest

from accounts.models import Member
from drives.actions.pieces import hand_overs, loss, queue
from drives.audit import audit
from drives.models import HandOver, HandOverWay, Piece, Turn
from tests.actions.squares.test_storm import all_at_once, crowd, one_act, said
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, seams

pytestmark = [pytest.mark.postgres, pytest.mark.django_db(transaction=True)]

THREADS, ACTS = 12, 15


@pytest.mark.parametrize("mode", ["travelling", "together"])
def test_a_storm_around_pieces_leaves_everything_in_order(
    cast: Cast, plan: Plan, mode: str
) -> None:
    at_once = 2 if mode == "together" else None
    cut = seams("B1-C1 B2-C2 B3-C3")  # two halves, joined in the upper row
    desk = plan(4, 4, seams=cut, mode=mode, at_once=at_once, claim_limit=3)
    members = crowd(cast, 5)

    def walk(number: int) -> Callable[[], str]:
        chance = random.Random(f"{mode} {number}")
        return lambda: " ".join(
            said(lambda: one_of_all(desk, cast, members, chance)) for _ in range(ACTS)
        )

    answers = Counter(" ".join(all_at_once([walk(n) for n in range(THREADS)])).split())
    assert answers.total() == THREADS * ACTS
    assert list(audit()) == []
    assert {"claimed", "finished"} < set(desk.verbs())
    if mode == "travelling":
        assert {"asked-for-piece", "hand-over-received"} < set(desk.verbs())


def one_of_all(desk: Desk, cast: Cast, members: list[Member], chance: random.Random) -> None:
    """Half of it with squares, half with pieces; what one saw may be gone when one acts."""
    piece = chance.choice([None, *Piece.objects.live().select_related("blanket__drive__circle")])
    if piece is None or chance.random() < 0.5:
        one_act(desk, cast, members, chance)
        return
    hand_over = HandOver.objects.open().filter(piece=piece).select_related("piece").first()
    turn = Turn.objects.waiting().filter(piece=piece).select_related("member").first()
    match chance.choices(["move", "found", "leave", "lose"], weights=[70, 10, 15, 5])[0]:
        case "move" if hand_over is None:
            receiver = turn.member if turn else chance.choice(members)
            hand_overs.arrange_hand_over(
                piece=piece,
                receiver=receiver,
                way=HandOverWay.POST,
                day=None,
                by=cast.cora,
                now=NOW,
            )
        case "move" if hand_over is not None:
            step = chance.choices(["send", "receive", "cancel"], weights=[20, 70, 10])[0]
            if step == "send":
                hand_overs.send_piece(hand_over=hand_over, note="", by=cast.cora, now=NOW)
            elif step == "receive":
                hand_overs.receive_piece(hand_over=hand_over, by=cast.cora, now=NOW)
            else:
                hand_overs.cancel_hand_over(hand_over=hand_over, by=cast.cora, now=NOW)
        case "found":
            member = chance.choice(members)
            hand_overs.put_piece_into_hands(piece=piece, member=member, by=cast.cora, now=NOW)
        case "leave" if turn is not None:
            queue.leave_queue(piece=piece, member=turn.member, by=cast.cora, now=NOW)
        case "lose":
            loss.declare_piece_lost(piece=piece, by=cast.cora, now=NOW)
