"""What may be begun, offered and ripped. TRADE.md, section 4."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout import states
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.states import Obstacle, Offer, Refusal, State
from drives.craft.places import Place
from tests.craft.brief import places
from tests.craft.layouts import layouts, thoroughly

NONE = frozenset[Place]()
THREE = plan(Layout(3, 3, 20))
A1, B1, C1, A2, B2, C2, A3, B3, C3 = places("A1", "B1", "C1", "A2", "B2", "C2", "A3", "B3", "C3")


def refusal(plan: Plan, place: Place, finished: set[Place], taken: set[Place]) -> Refusal | None:
    return states.refusal(plan, place, finished=finished, taken=taken)


def work(planned: Plan, random: Random, share: float = 1.0) -> list[Place]:
    """Finish a ``share`` of the squares in some order that the rules allow."""
    done: list[Place] = []
    while len(done) < share * len(planned.places):
        able = states.offers(planned, finished=frozenset(done), taken=NONE)
        done.append(random.choice(able).place)
    return done


def test_each_state_of_a_square() -> None:
    finished, taken = frozenset({A1}), frozenset({B1})
    found = {
        place: states.state(THREE, place, finished=finished, taken=taken)
        for place in (A1, B1, A2, B2)
    }
    assert found == {
        A1: State.FINISHED,
        B1: State.TAKEN,
        A2: State.READY,
        B2: State.WAITING,
    }


def test_why_a_square_cannot_be_begun() -> None:
    assert refusal(THREE, A1, set(), set()) is None
    assert refusal(THREE, A1, {A1}, set()) == Refusal(Obstacle.FINISHED)
    assert refusal(THREE, A1, set(), {A1}) == Refusal(Obstacle.TAKEN)
    assert refusal(THREE, B2, {A1}, {B1}) == Refusal(Obstacle.NOT_READY, (A2, B1))
    assert refusal(THREE, B2, {A1, A2}, {B1}) == Refusal(Obstacle.NOT_READY, (B1,))
    assert refusal(THREE, B2, {A1, A2, B1}, set()) is None


def test_how_many_unfinished_squares_one_stands_on() -> None:
    assert states.unmet(THREE, A1, finished=NONE) == 0
    assert states.unmet(THREE, B2, finished=NONE) == 2
    assert states.unmet(THREE, B2, finished={A1, A2}) == 1
    assert states.unmet(THREE, B2, finished={A2, B1, C3}) == 0


def test_the_obstacles_are_the_codes_of_the_api() -> None:
    # the API answers a refused action with 409 and one of these (drives/api/problems.py)
    assert set(Obstacle) == {"already-finished", "already-taken", "not-ready"}


def test_what_must_be_ripped_first_topmost_first() -> None:
    begun = {A1, B1, A2, C1, B2, A3, C2}
    assert states.rip_first(THREE, A1, begun=begun) == (C2, A3, B2, C1, A2, B1)
    assert states.rip_first(THREE, B2, begun=begun) == (C2,)
    assert states.rip_first(THREE, A3, begun=begun) == ()
    assert states.rip_first(THREE, A1, begun={A1}) == ()


def test_what_becomes_ready_with_a_square() -> None:
    assert states.freed(THREE, A1, finished=NONE) == (B1, A2)
    assert states.freed(THREE, B1, finished=frozenset({A1})) == (C1,)
    assert states.freed(THREE, B1, finished=frozenset({A1, A2})) == (C1, B2)
    assert states.freed(THREE, A1, finished=frozenset({B1})) == (A2,)
    assert states.freed(THREE, C3, finished=NONE) == ()


def test_offers_put_the_longest_chain_first_then_what_frees_most() -> None:
    tall = plan(Layout(2, 4, 20))
    finished = frozenset({A1})
    # both begin chains of 4 and of 4 squares: A2 A3 A4 B4, B1 B2 B3 B4
    assert states.offers(tall, finished=finished, taken=NONE) == [
        Offer(A2, 4, (A3,)),
        Offer(B1, 4, ()),
    ]
    seam = plan(Layout(4, 1, 20, seams=frozenset({Seam(A1, B1)})))
    assert states.offers(seam, finished=NONE, taken=NONE) == [
        Offer(B1, 3, (C1,)),
        Offer(A1, 1, ()),
    ]


def test_what_is_taken_is_not_offered() -> None:
    assert states.offers(THREE, finished=frozenset({A1, B1}), taken=frozenset({C1})) == [
        Offer(A2, 4, (B2, A3)),
    ]


def test_equal_offers_keep_the_recommended_order() -> None:
    planned = plan(Layout(4, 4, 20))
    finished = frozenset({A1, B1, A2})
    offered = states.offers(planned, finished=finished, taken=NONE)
    assert [offer.place for offer in offered] == [C1, A3, B2]  # B2 frees nothing
    bases = plan(Layout(3, 1, 20, missing=frozenset({B1})))
    assert [offer.place for offer in states.offers(bases, finished=NONE, taken=NONE)] == [A1, C1]


@thoroughly
@given(layouts(), st.randoms(use_true_random=False))
def test_any_valid_order_of_work_is_never_refused(layout: Layout, random: Random) -> None:
    planned = plan(layout)
    finished: set[Place] = set()
    for place in work(planned, random):
        assert refusal(planned, place, finished, set()) is None
        assert all(support in finished for support in planned.stands_on[place])
        finished.add(place)
    assert finished == set(planned.places)
    assert states.offers(planned, finished=finished, taken=NONE) == []


@thoroughly
@given(layouts(), st.randoms(use_true_random=False))
def test_a_refusal_names_what_is_unfinished_and_nothing_else(
    layout: Layout, random: Random
) -> None:
    planned = plan(layout)
    finished = set(work(planned, random, random.random()))
    open_ = [place for place in planned.places if place not in finished]
    taken = {place for place in open_ if refusal(planned, place, finished, set()) is None}
    taken = {place for place in taken if random.random() < 0.5}
    for place in open_:
        refused = refusal(planned, place, finished, taken)
        if place in taken:
            assert refused == Refusal(Obstacle.TAKEN)
        elif refused:
            assert refused.obstacle is Obstacle.NOT_READY
            assert refused.waiting_for
            assert set(refused.waiting_for) == set(planned.stands_on[place]) - finished
        else:
            assert finished.issuperset(planned.stands_on[place])


@thoroughly
@given(layouts(), st.randoms(use_true_random=False))
def test_offers_are_exactly_what_is_not_refused(layout: Layout, random: Random) -> None:
    planned = plan(layout)
    finished = frozenset(work(planned, random, random.random()))
    offers = states.offers(planned, finished=finished, taken=NONE)
    able = {place for place in planned.places if not refusal(planned, place, set(finished), set())}
    assert {offer.place for offer in offers} == able
    merit = [(-offer.chain, -len(offer.frees)) for offer in offers]
    assert merit == sorted(merit)
    for offer in offers:
        then = {offer.place, *finished}
        newly = {place for place in planned.places if not refusal(planned, place, then, set())}
        assert set(offer.frees) == newly - able


@thoroughly
@given(layouts(), st.randoms(use_true_random=False))
def test_ripping_in_the_order_named_keeps_all_standing(layout: Layout, random: Random) -> None:
    planned = plan(layout)
    begun = set(work(planned, random, random.random()))
    if not begun:
        return
    wanted = random.choice(sorted(begun))
    order = states.rip_first(planned, wanted, begun=begun)
    assert len(order) == len(set(order))
    for place in [*order, wanted]:
        assert not any(above in begun for above in planned.carries[place])
        assert states.rip_first(planned, place, begun=begun) == ()
        begun.remove(place)
        assert all(begun.issuperset(planned.stands_on[standing]) for standing in begun)
