"""What is offered next where pieces travel: of equal squares, those at hand first."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.layout.states import Offer, offers
from drives.craft.places import Place
from tests.craft import reference
from tests.craft.brief import places
from tests.craft.layouts import layouts
from tests.craft.situations import cut, often

A1, B1, C1, A2, B2, C2 = places("A1", "B1", "C1", "A2", "B2", "C2")
NONE = frozenset[Place]()
THREE_PANELS = cut(3, 2, 1, 2)
BASES = frozenset({A1, B1, C1})
HOLDERS = {A1: "Ann", B1: "Bea", C1: "Ann"}


def offered(asks: str | None) -> list[tuple[Place, int]]:
    found = offers(THREE_PANELS, finished=BASES, taken=NONE, holders=HOLDERS, asks=asks)
    return [(offer.place, offer.hand_overs) for offer in found]


def test_what_is_at_hand_comes_before_what_must_be_handed_over() -> None:
    assert offered("Ann") == [(A2, 0), (C2, 0), (B2, 1)]
    assert offered("Bea") == [(B2, 0), (A2, 1), (C2, 1)]
    assert offered("Cleo") == [(A2, 1), (B2, 1), (C2, 1)]


def test_chain_and_what_is_freed_weigh_more_than_a_hand_over() -> None:
    planned = cut(3, 3, 1)  # A is a panel of one column, B and C are another
    finished = frozenset({A1, B1})
    found = offers(planned, finished=finished, taken=NONE, holders={A1: 1, B1: 2}, asks=1)
    assert [(offer.place, offer.chain, offer.hand_overs) for offer in found] == [
        (B2, 3, 1),
        (C1, 3, 1),
        (A2, 2, 0),
    ]


def test_two_pieces_are_two_hand_overs_and_one_piece_is_one() -> None:
    corner = plan(Layout(2, 2, 20, missing=frozenset({A1})))
    finished = frozenset({A2, B1})

    def hand_overs(holders: dict[Place, int], asks: int) -> int:
        (offer,) = offers(corner, finished=finished, taken=NONE, holders=holders, asks=asks)
        return offer.hand_overs

    assert hand_overs({A2: 1, B1: 2}, 3) == 2
    assert hand_overs({A2: 1, B1: 2}, 1) == 1
    assert hand_overs({A2: 1, B1: 1}, 1) == 0
    assert hand_overs({A2: 1}, 2) == 1  # nobody has the other one
    square = plan(Layout(2, 2, 20))
    (offer,) = offers(square, finished=frozenset({A1, B1, A2}), taken=NONE, holders={A1: 1}, asks=2)
    assert offer == Offer(B2, 1, (), 1)


@often
@given(layouts(8), st.randoms(use_true_random=False))
def test_hand_overs_are_the_pieces_in_other_hands(layout: Layout, random: Random) -> None:
    planned = plan(layout)
    finished = frozenset(planned.places[: random.randint(0, len(planned.places))])
    pieces = reference.pieces(layout, set(finished))
    holder = {piece: random.choice([0, 1, 2, None]) for piece in pieces}
    holders = {
        random.choice(sorted(piece)): who for piece, who in holder.items() if who is not None
    }
    found = offers(planned, finished=finished, taken=NONE, holders=holders, asks=1)
    plain = offers(planned, finished=finished, taken=NONE)
    assert {offer._replace(hand_overs=0) for offer in found} == set(plain)
    merit = [(-offer.chain, -len(offer.frees), offer.hand_overs) for offer in found]
    assert merit == sorted(merit)
    for offer in found:
        others = [
            piece
            for piece in pieces
            if holder[piece] in {0, 2} and not piece.isdisjoint(planned.stands_on[offer.place])
        ]
        assert offer.hand_overs == len(others)
