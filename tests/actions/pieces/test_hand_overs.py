"""Travelling pieces: who may work on them, and how they get from one to the other."""

import pytest

from accounts.actions import remove_member
from accounts.models import Member
from drives.actions.drives.drives import change_drive
from drives.actions.pieces import hand_overs
from drives.models import HandOver, HandOverWay
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, SETTINGS, Desk, nothing_changes, refused, seams, twice

ONE, OTHER = "ring the bell at number 4", "after six, the blue door"


def test_the_holder_goes_on_and_others_are_put_off(desk: Desk, cast: Cast, will: Member) -> None:
    put_off = desk.ask("B1", will)
    assert (put_off.code, put_off.facts) == (
        "piece-elsewhere",
        {"piece": "A1", "holder": "Vera", "turn": 1},
    )
    assert put_off.detail == (
        "B1 belongs to the piece A1, which is with Vera. "
        "You are number 1 in line for it; arrange with them how you get it."
    )
    assert desk.states() == {"A1": "finished"}
    desk.knit("B1", cast.vera)


def test_a_base_square_is_free_for_anybody(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(2, 1, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1", cast.vera)
    desk.knit("B1", will)
    assert desk.holders() == {"A1": "Vera", "B1": "Will"}


def test_who_wants_what_cannot_be_begun_anyway_is_told_that(desk: Desk, will: Member) -> None:
    with refused(
        "not-ready",
        "B2 cannot be begun yet: it joins onto A2 and B1, not finished so far.",
        waiting_for=["A2", "B1"],
    ):
        desk.claim("B2", will)


def test_who_wants_what_is_taken_is_told_that(desk: Desk, cast: Cast, will: Member) -> None:
    desk.claim("B1", cast.vera)
    detail = "B1 is taken by Vera until 16 November; choose a square that is ready."
    with refused("already-taken", detail):
        desk.claim("B1", will)


def test_a_square_on_two_pieces_needs_both_in_hand(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2", cast.vera)
    desk.knit("B1", will)
    assert desk.ask("B2", will).facts["piece"] == "A1"
    assert desk.ask("B2", cast.vera).facts["piece"] == "B1"
    desk.arrange("B1", cast.vera, by=will)
    desk.receive("B1", cast.vera)
    desk.knit("B2", cast.vera)
    assert desk.holders() == {"A1": "Vera"}
    assert desk.queue("A1") == ["Will"]


def test_by_hand(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    twice(lambda: desk.arrange("A1", will, by=cast.vera))
    hand_over = desk.hand_over("A1")
    assert (hand_over.giver, hand_over.receiver) == (cast.vera, will)
    twice(lambda: hand_overs.receive_piece(hand_over=hand_over, by=will, now=NOW + DAY))
    assert desk.holders() == {"A1": "Will"}
    assert desk.queue("A1") == []
    assert desk.verbs()[-3:] == ["asked-for-piece", "hand-over-arranged", "hand-over-received"]
    desk.claim("B1", will)


def test_by_post(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera, way=HandOverWay.POST)
    twice(lambda: desk.send("A1", cast.vera, at=NOW + DAY, note="parcel 12"))
    hand_over = desk.hand_over("A1")
    assert (hand_over.sent_at, hand_over.note) == (NOW + DAY, "parcel 12")
    assert "parcel" not in str([event.facts for event in desk.events()])
    with refused(
        "piece-on-its-way", "The piece A1 is on its way from one to the other.", piece="A1"
    ):
        desk.claim("B1", cast.vera)
    desk.receive("A1", will)
    desk.claim("B1", will)
    assert HandOver.objects.get().note == ""


def test_contacts_are_wiped_when_it_ends_and_never_logged(
    desk: Desk, cast: Cast, will: Member
) -> None:
    for end in (desk.cancel, desk.receive):
        hand_over = desk.arrange("A1", will, by=cast.vera)
        hand_overs.tell_contact(hand_over=hand_over, by=cast.vera, contact=ONE)
        hand_overs.tell_contact(hand_over=hand_over, by=will, contact=OTHER)
        told = desk.hand_over("A1")
        assert (told.giver_contact, told.receiver_contact) == (ONE, OTHER)
        end("A1", will)
        hand_over.refresh_from_db()
        assert (hand_over.giver_contact, hand_over.receiver_contact) == ("", "")
    facts = str([event.facts for event in desk.events()])
    assert ONE not in facts
    assert OTHER not in facts


def test_what_was_told_can_be_taken_back(desk: Desk, cast: Cast, will: Member) -> None:
    hand_over = desk.arrange("A1", will, by=cast.vera)
    hand_overs.tell_contact(hand_over=hand_over, by=will, contact=OTHER)
    hand_overs.tell_contact(hand_over=hand_over, by=will, contact="")
    assert desk.hand_over("A1").receiver_contact == ""
    only = (
        "Only the person who has the piece A1, the one who gets it next, "
        "or a coordinator can do this."
    )
    with refused("not-yours", only):
        hand_overs.tell_contact(hand_over=hand_over, by=cast.cora, contact="the parish hall")
    desk.cancel("A1", will)
    with refused("hand-over-ended", "This hand-over of the piece A1 is over."):
        hand_overs.tell_contact(hand_over=hand_over, by=will, contact=OTHER)


def test_a_coordinator_does_all_of_it_for_both(desk: Desk, cast: Cast) -> None:
    desk.arrange("A1", cast.paul, by=cast.cora)
    desk.send("A1", cast.cora)
    desk.receive("A1", cast.cora)
    assert desk.holders() == {"A1": "Paul"}


def test_who_is_not_in_it_does_none_of_it(desk: Desk, cast: Cast, will: Member) -> None:
    only = (
        "Only the person who has the piece A1, the one who gets it next, "
        "or a coordinator can do this."
    )
    with refused("not-yours", only):
        desk.arrange("A1", cast.paul, by=will)
    with refused("not-yours", only):  # without having asked for it
        desk.arrange("A1", will, by=will)
    desk.arrange("A1", cast.paul, by=cast.vera)
    for act in (desk.send, desk.receive, desk.cancel):
        with refused("not-yours", only):
            act("A1", will)
    with refused("not-yours", only):  # only who gets it can say that they have it
        desk.receive("A1", cast.vera)


def test_who_is_in_line_may_arrange_it(desk: Desk, will: Member) -> None:
    desk.ask("B1", will)
    assert desk.arrange("A1", will, by=will).receiver == will


def test_one_hand_over_at_a_time(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera)
    promised = "The piece A1 is promised to Will; cancel that hand-over first."
    with refused("hand-over-open", promised, to="Will"):
        desk.arrange("A1", cast.paul, by=cast.vera)
    with refused("hand-over-open", promised, to="Will"):
        desk.put("A1", cast.paul, by=cast.cora)
    hand_over = desk.hand_over("A1")
    twice(lambda: hand_overs.cancel_hand_over(hand_over=hand_over, by=will, now=NOW))
    over = "This hand-over of the piece A1 is over."
    with refused("hand-over-ended", over):
        hand_overs.receive_piece(hand_over=hand_over, by=will, now=NOW)
    with refused("hand-over-ended", over):
        hand_overs.send_piece(hand_over=hand_over, note="", by=cast.vera, now=NOW)
    desk.arrange("A1", cast.paul, by=cast.vera)
    received = desk.receive("A1", cast.cora)
    with refused("hand-over-ended", over):
        hand_overs.cancel_hand_over(hand_over=received, by=cast.vera, now=NOW)


def test_nobody_gets_what_they_have(desk: Desk, cast: Cast) -> None:
    with refused("piece-is-theirs", "Vera has the piece A1 already.", piece="A1"):
        desk.arrange("A1", cast.vera, by=cast.cora)
    with nothing_changes():
        desk.put("A1", cast.vera, by=cast.cora)


def test_what_is_on_the_needles_does_not_travel(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera)
    desk.claim("B1", cast.vera)
    in_work = (
        "Vera has a square of the piece A1 on the needles; "
        "finish it or give it back before the piece changes hands."
    )
    for act, by in ((desk.send, cast.vera), (desk.receive, will)):
        with refused("piece-in-work", in_work, piece="A1", members=["Vera"]):
            act("A1", by)
    desk.cancel("A1", will)
    with refused("piece-in-work", in_work, piece="A1", members=["Vera"]):
        desk.put("A1", will, by=cast.cora)
    desk.arrange("A1", will, by=cast.vera)
    desk.give_back("B1", cast.vera)
    desk.receive("A1", will)


def test_a_coordinator_says_who_really_has_it(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    twice(lambda: desk.put("A1", will, by=cast.cora))
    assert (desk.holders(), desk.queue("A1")) == ({"A1": "Will"}, [])
    assert desk.verbs()[-1] == "piece-found"


def test_a_piece_of_somebody_who_has_left(desk: Desk, cast: Cast, will: Member) -> None:
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    assert desk.ask("B1", will).detail == (
        "B1 belongs to the piece A1, which was last with Vera, who has left the circle. "
        "You are number 1 in line for it; ask a coordinator where it is."
    )
    desk.put("A1", will, by=cast.cora)
    desk.claim("B1", will)
    cast.vera.refresh_from_db()
    with refused("member-has-left", "Vera is no longer in the circle."):
        desk.arrange("A1", cast.vera, by=will)
    desk.give_back("B1", will)
    with refused("member-has-left", "Vera is no longer in the circle."):
        desk.put("A1", cast.vera, by=cast.cora)


def test_around_one_table_nothing_is_handed_over(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", will)
    stays = "In this drive the pieces stay with the circle, so there is nothing to hand over."
    with refused("no-travelling", stays):
        desk.arrange("A1", will, by=cast.cora)
    with refused("no-travelling", stays):
        desk.put("A1", will, by=cast.cora)


@pytest.mark.parametrize("mode", ["together", "travelling"])
def test_no_more_people_on_a_piece_than_there_is_room(
    cast: Cast, plan: Plan, will: Member, mode: str
) -> None:
    desk = plan(3, 3, mode=mode, at_once=2)
    desk.knit("A1 B1 A2", cast.vera)
    desk.claim("C1", cast.vera)
    desk.claim("B2", will)
    full = "Vera and Will are at work on the piece A1, and there is no room for more."
    with refused("piece-full", full, piece="A1", members=["Vera", "Will"]):
        desk.claim("A3", cast.olga)
    desk.claim("A3", will)  # who works on it already takes no more room
    with refused(
        "already-taken", "C1 is taken by Vera until 16 November; choose a square that is ready."
    ):
        desk.claim("C1", cast.olga)


def test_one_is_at_work_and_two_have_squares_on_the_needles(
    cast: Cast, plan: Plan, will: Member
) -> None:
    table = plan(at_once=1)
    table.knit("A1", cast.vera)
    table.claim("B1", cast.vera)
    full = "Vera is at work on the piece A1, and there is no room for more."
    with refused("piece-full", full, piece="A1", members=["Vera"]):
        table.claim("A2", will)
    desk = plan(mode="travelling", at_once=2)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    desk.claim("A2", will)
    in_work = (
        "Vera and Will have squares of the piece A1 on the needles; "
        "finish them or give them back before the piece changes hands."
    )
    with refused("piece-in-work", in_work, piece="A1", members=["Vera", "Will"]):
        desk.put("A1", cast.olga, by=cast.cora)


def test_a_shared_piece_goes_to_who_joined_a_square_to_it(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan(mode="travelling", at_once=2)
    desk.knit("A1", cast.vera)
    desk.arrange("A1", will, by=cast.vera)
    desk.knit("B1", will)
    assert desk.holders() == {"A1": "Will"}
    assert HandOver.objects.get().received


def test_when_the_mode_changes_so_does_who_has_the_pieces(
    desk: Desk, cast: Cast, will: Member
) -> None:
    desk.ask("B1", will)
    desk.arrange("A1", will, by=cast.vera)
    settle(desk, cast, mode="together")
    assert (desk.holders(), desk.queue("A1")) == ({"A1": ""}, [])
    assert not HandOver.objects.open().exists()
    settle(desk, cast, mode="travelling")
    desk.claim("B1", will)  # who begins on what lay on the table has it from then on
    assert desk.holders() == {"A1": "Will"}


def test_what_lies_on_the_table_may_be_promised(desk: Desk, cast: Cast, will: Member) -> None:
    settle(desk, cast, mode="together")
    settle(desk, cast, mode="travelling")
    desk.arrange("A1", will, by=cast.cora)
    promised = "The piece A1 is promised to Will; cancel that hand-over first."
    with refused("hand-over-open", promised, to="Will"):
        desk.claim("B1", cast.vera)
    desk.claim("B1", will)
    assert HandOver.objects.get().received


def settle(desk: Desk, cast: Cast, mode: str) -> None:
    settings = SETTINGS.copy()
    settings["mode"] = mode
    change_drive(drive=desk.blanket.drive, by=cast.olga, now=NOW, **settings)
