"""The lines of those who wait for a piece."""

from accounts.actions import remove_member
from accounts.models import Member
from drives import tasks
from drives.actions.pieces import hand_overs, queue
from drives.models import HandOver
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, nothing_changes, refused, seams


def test_who_asks_first_is_first_and_asking_again_changes_nothing(
    desk: Desk, cast: Cast, will: Member
) -> None:
    assert desk.ask("B1", will).facts["turn"] == 1
    assert desk.ask("A2", cast.olga, at=NOW + DAY).facts["turn"] == 2
    with nothing_changes():
        assert desk.ask("A2", will, at=NOW + 2 * DAY).facts["turn"] == 1
    assert desk.queue("A1") == ["Will", "Olga"]
    assert desk.verbs()[-2:] == ["asked-for-piece", "asked-for-piece"]


def test_the_line_moves_on_when_its_head_gives_up(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    desk.ask("B1", cast.olga)
    desk.arrange("A1", will, by=cast.vera)
    assert desk.leave_queue("A1", will)
    assert desk.queue("A1") == ["Olga"]
    assert desk.verbs()[-1] == "left-the-line"
    desk.arrange("A1", cast.olga, by=cast.vera)  # nothing is promised to Will any more
    with nothing_changes():
        assert not desk.leave_queue("A1", will)


def test_who_gives_up_what_is_in_the_post_still_gets_it(
    desk: Desk, cast: Cast, will: Member
) -> None:
    desk.ask("B1", will)
    desk.arrange("A1", will, by=cast.vera)
    desk.send("A1", cast.vera)
    desk.leave_queue("A1", will)
    desk.receive("A1", will)
    assert desk.holders() == {"A1": "Will"}


def test_a_line_outlives_a_hand_over_to_somebody_else(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    desk.put("A1", cast.paul, by=cast.cora)
    assert desk.queue("A1") == ["Will"]


def test_joined_pieces_join_their_lines(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2 B1", cast.vera)
    desk.arrange("B1", will, by=cast.vera)
    line(desk, "A1", will, 1)
    line(desk, "A1", cast.paul, 3)
    line(desk, "B1", will, 0)
    line(desk, "B1", cast.olga, 2)
    desk.knit("B2", cast.vera)
    assert desk.queue("A1") == ["Will", "Olga", "Paul"]
    assert desk.piece("A1").turns.waiting()[0].asked_at == NOW
    assert not HandOver.objects.open().exists()


def line(desk: Desk, name: str, member: Member, days: int) -> None:
    queue.join_queue(pieces=[desk.piece(name)], member=member, by=member, now=NOW + days * DAY)


def test_nobody_waits_for_themselves_after_a_join(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2", cast.vera)
    desk.knit("B1", will)
    desk.ask("B2", will)
    desk.ask("B2", cast.vera)
    desk.put("A1", will, by=cast.cora)
    desk.knit("B2", will)
    assert (desk.holders(), desk.queue("A1")) == ({"A1": "Will"}, ["Vera"])


def test_who_joins_shared_pieces_waits_for_neither(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling", at_once=2)
    desk.knit("A1 A2", cast.vera)
    desk.knit("B1", will)
    line(desk, "B1", cast.vera, 0)
    desk.knit("B2", cast.vera)
    assert (desk.holders(), desk.queue("A1")) == ({"A1": "Vera"}, [])


def test_nobody_waits_for_what_was_ripped(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    desk.arrange("A1", will, by=cast.vera)
    ended = desk.piece("A1")
    desk.rip_back("A1", cast.cora)
    assert not ended.turns.waiting().exists()
    assert not HandOver.objects.open().exists()
    with refused("piece-is-no-more", "The piece A1 is no more.", piece="A1"):
        queue.leave_queue(piece=ended, member=will, by=will, now=NOW)
    with refused("piece-is-no-more", "The piece A1 is no more.", piece="A1"):
        hand_overs.receive_piece(hand_over=HandOver.objects.get(), by=will, now=NOW)


def test_a_line_stays_with_the_part_that_keeps_the_name(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2 B1 B2", cast.vera)
    line(desk, "A1", will, 0)
    desk.rip_back("B2", cast.cora)
    assert desk.holders() == {"A1": "Vera", "B1": "Vera"}
    assert (desk.queue("A1"), desk.queue("B1")) == (["Will"], [])


def test_who_has_left_waits_for_nothing(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    desk.ask("B1", cast.olga)
    desk.arrange("A1", will, by=cast.vera)
    remove_member(member=will, by=cast.olga, now=NOW)
    tasks.settle_departed()
    assert desk.queue("A1") == ["Olga"]
    assert not HandOver.objects.open().exists()
    last = desk.events()[-1]
    assert (last.verb, last.by, last.facts["member"]) == ("left-the-line", None, will.pk)
    with nothing_changes():
        tasks.settle_departed()


def test_what_was_promised_without_asking_is_cancelled_too(
    desk: Desk, cast: Cast, will: Member
) -> None:
    desk.arrange("A1", will, by=cast.vera)
    remove_member(member=will, by=cast.olga, now=NOW)
    tasks.settle_departed()
    assert (desk.verbs()[-1], desk.holders()) == ("hand-over-cancelled", {"A1": "Vera"})


def test_what_somebody_sent_before_they_left_may_still_arrive(
    desk: Desk, cast: Cast, will: Member
) -> None:
    hand_over = desk.arrange("A1", will, by=cast.vera)
    hand_overs.tell_contact(hand_over=hand_over, by=cast.vera, contact="ring twice")
    desk.send("A1", cast.vera)
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    tasks.settle_departed()
    assert desk.hand_over("A1").giver_contact == ""
    desk.receive("A1", will)
    assert desk.holders() == {"A1": "Will"}
