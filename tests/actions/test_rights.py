"""What the rights tell is what the actions accept, of everybody and in every state."""

from collections.abc import Callable
from decimal import Decimal
from typing import ParamSpec

import pytest
from django.db import transaction

from accounts.models import Member, Role
from drives.actions.colours.plans import choose_colour
from drives.actions.pieces.hand_overs import tell_contact
from drives.actions.rights import hand_over_rights, piece_rights, square_rights
from drives.actions.squares.claims import count_rows
from drives.actions.squares.weights import weigh_square
from shared.basics.refusals import Refused
from tests.cast import Cast, bring, login
from tests.conftest import Plan
from tests.desk import NOW

P = ParamSpec("P")

NOT_THEIRS = {"not-yours", "not-taken", "not-finished", "hand-over-ended"}


def accepted(act: Callable[P, object], *args: P.args, **facts: P.kwargs) -> bool:
    """Whether it is theirs to do as things stand. It is undone again."""
    with transaction.atomic():
        try:
            act(*args, **facts)
        except Refused as refusal:
            return refusal.code not in NOT_THEIRS
        finally:
            transaction.set_rollback(True)
    return True


@pytest.fixture
def people(cast: Cast, will: Member) -> list[Member]:
    """Vera and Will, to whom things happen, two who look after others, and two bystanders."""
    nina = bring(cast.olga, login("Nina"), Role.VOLUNTEER, now=NOW)
    return [cast.vera, will, cast.cora, cast.olga, cast.paul, nina]


@pytest.mark.parametrize("state", ["open", "taken", "finished"])
def test_a_square(state: str, plan: Plan, cast: Cast, people: list[Member]) -> None:
    desk = plan()
    if state != "open":
        desk.claim("A1", cast.vera)
    if state == "finished":
        desk.finish("A1", cast.vera)
    for me in people:
        square = desk.square("A1")
        rights = square_rights(square, square.open_claim(), me)
        weigh = accepted(weigh_square, square=square, by=me, grams=Decimal(9), now=NOW)
        choose = accepted(choose_colour, square=square, by=me, colour="red", now=NOW)
        assert rights.weigh == weigh
        assert rights.choose_colour == (choose and state != "finished")
        assert rights.mine == accepted(count_rows, square=square, by=me, rows_done=1)
        if state != "finished":  # finishing again changes nothing
            assert rights.finish == accepted(desk.finish, "A1", me)
        assert rights.finish == accepted(desk.give_back, "A1", me)
        coordinates = me in (cast.cora, cast.olga)
        assert rights.extend == (coordinates and accepted(desk.release, "A1", me))
        assert rights.rip_back == (coordinates and accepted(desk.rip_back, "A1", me))
        assert rights.claim_for == (coordinates and state == "open")
        assert rights.claim == (state == "open" and Role.VOLUNTEER in me.roles)


def test_a_square_that_waits_is_for_nobody_to_claim(
    plan: Plan, cast: Cast, people: list[Member]
) -> None:
    square = plan().square("B2")
    for me in people:
        rights = square_rights(square, None, me)
        assert (rights.claim, rights.claim_for) == (False, False)


def test_a_piece(plan: Plan, cast: Cast, will: Member, people: list[Member]) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1", cast.vera)
    desk.ask("B1", will)
    for me in people:
        rights = piece_rights(desk.piece("A1"), me, in_line=me == will)
        assert rights.mine == (me == cast.vera)
        assert rights.give == accepted(desk.arrange, "A1", cast.paul, by=me)
        fetches = accepted(desk.arrange, "A1", me, by=me)
        assert (rights.mine or rights.arrange) == fetches
        assert rights.correct == rights.lose == (me in (cast.cora, cast.olga))


def test_around_one_table_nothing_is_handed_over(
    plan: Plan, cast: Cast, people: list[Member]
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    for me in people:
        rights = piece_rights(desk.piece("A1"), me, in_line=False)
        assert (rights.arrange, rights.correct) == (False, False)


@pytest.mark.parametrize("sent", [False, True])
def test_a_hand_over(
    sent: bool, plan: Plan, cast: Cast, will: Member, people: list[Member]
) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1", cast.vera)
    desk.arrange("A1", will, by=cast.vera)
    if sent:
        desk.send("A1", cast.vera)
    for me in people:
        under_way = desk.hand_over("A1")
        rights = hand_over_rights(under_way, me)
        assert (rights.gives, rights.gets) == (me == cast.vera, me == will)
        assert rights.send == (not sent and accepted(desk.send, "A1", me))
        assert rights.receive == accepted(desk.receive, "A1", me)
        assert rights.cancel == accepted(desk.cancel, "A1", me)
        tell = accepted(tell_contact, hand_over=under_way, by=me, contact="here")
        assert (rights.gives or rights.gets) == tell


def test_nobody_does_anything_with_a_hand_over_that_has_ended(
    plan: Plan, cast: Cast, will: Member, people: list[Member]
) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1", cast.vera)
    desk.arrange("A1", will, by=cast.vera)
    ended = desk.cancel("A1", cast.vera)
    for me in people:
        rights = hand_over_rights(ended, me)
        assert not any([rights.send, rights.receive, rights.cancel])
