"""Before and after the due date: who is written to, when, and what it says."""

from datetime import datetime

import pytest
from django.core import mail

from accounts.actions import remove_member
from accounts.models import Member, User
from drives.actions.circles.letters import choose_letters, queue_letter
from drives.craft.forecast.passing import Passing
from drives.letters.post import deliver
from drives.letters.schedule import queue_due
from drives.models import Claim, Letter, Mode, Subject
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, seams
from tests.letters.conftest import collect, fates, move, post

LATE = NOW + 15 * DAY  # a Tuesday, 10 in the morning in London
SOON = NOW + 12 * DAY


@pytest.fixture
def crowd(cast: Cast, plan: Plan, will: Member) -> Desk:
    """Vera is late, Will is too late, Paul on paper is late, Olga is in time."""
    desk = plan(4, 1, seams=seams("A1-B1 B1-C1 C1-D1"))
    desk.claim("A1", cast.vera, at=LATE - 18 * DAY)
    desk.claim("B1", will, at=LATE - 22 * DAY)
    desk.claim("C1", cast.paul, by=cast.cora, at=LATE - 18 * DAY)
    desk.claim("D1", cast.olga, at=LATE - 3 * DAY)
    return desk


def test_a_late_member_with_a_login_gets_one_letter(crowd: Desk) -> None:
    (letter,) = post(LATE)
    assert letter.to == ["vera@example.org"]
    assert letter.subject == "A1 of Blanket was due on 13 November"
    for words in (
        "Hello Vera,\n\n",
        "square A1 of “Blanket” in hand since 30 October",
        "it was due on 13 November.",
        "ask a coordinator of Harbour Lane",
        "goes back to the circle after 20 November,",
        f"\nhttps://blankets.example/blankets/{crowd.blanket.pk}/squares/A1/\n",
    ):
        assert words in letter.body
    assert "<" not in letter.body
    assert post(LATE) == []
    assert post(LATE + DAY) == []


def test_nobody_on_paper_is_written_to_or_said_to_be(crowd: Desk) -> None:
    post(LATE)
    reminded = [event.facts["place"] for event in crowd.events() if event.verb == "reminded"]
    assert reminded == ["A1"]


def test_a_new_due_date_brings_a_new_letter(crowd: Desk, cast: Cast) -> None:
    post(LATE)
    crowd.extend("A1", cast.cora, days=1, at=LATE)
    assert post(LATE + DAY / 2) == []
    (letter,) = post(LATE + 2 * DAY)
    assert "was due on 18 November" in letter.subject


def test_no_letter_for_who_has_left_or_may_not_sign_in(crowd: Desk, cast: Cast) -> None:
    vera = User.objects.filter(memberships=cast.vera)
    vera.update(is_active=False)
    assert post(LATE) == []
    vera.update(is_active=True)
    remove_member(member=cast.vera, by=cast.olga, now=LATE)
    assert post(LATE) == []


def test_who_wants_no_such_letters_is_not_reminded(crowd: Desk, cast: Cast) -> None:
    choose_letters(member=cast.vera, subject=Subject.LATE, wanted=False)
    assert post(LATE) == []
    assert "reminded" not in crowd.verbs()
    choose_letters(member=cast.vera, subject=Subject.LATE, wanted=True)
    assert len(post(LATE)) == 1


@pytest.mark.parametrize("happens", ["finish", "extend", "turn off", "leave"])
def test_what_happens_before_it_is_sent_counts(crowd: Desk, cast: Cast, happens: str) -> None:
    queue_due(LATE)
    match happens:
        case "finish":
            crowd.finish("A1", cast.vera, at=LATE)
        case "extend":
            crowd.extend("A1", cast.cora, days=7, at=LATE)
        case "turn off":
            choose_letters(member=cast.vera, subject=Subject.LATE, wanted=False)
        case "leave":
            remove_member(member=cast.vera, by=cast.olga, now=LATE)
    collect(LATE)
    assert mail.outbox == []
    assert fates() == ["dropped"]


def test_a_letter_speaks_the_circles_clock(crowd: Desk, cast: Cast) -> None:
    move(cast.circle, time_zone="Pacific/Kiritimati")  # 14 hours ahead
    Claim.objects.open().filter(member=cast.vera).update(due_at=datetime.fromisoformat(
        "2026-11-12T23:30Z"
    ))  # fmt: skip
    subjects = [letter.subject for letter in post(LATE.replace(hour=0))]
    assert "A1 of Blanket was due on 13 November" in subjects


def test_in_american_the_day_comes_after_the_month(crowd: Desk, cast: Cast) -> None:
    move(cast.circle, english="american", name="Knit & Natter")
    (letter,) = post(LATE)
    assert "was due on November 13" in letter.subject
    assert "ask a coordinator of Knit & Natter to give" in letter.body


def test_two_days_before_the_due_date(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    assert post(SOON - DAY) == []
    (letter,) = post(SOON)
    assert letter.to == ["vera@example.org"]
    assert letter.subject == "A1 of Blanket is due on Monday 16 November"
    for words in (
        "square A1 of “Blanket” in hand since 2 November, and it is due on Monday 16 November.",
        f"https://blankets.example/blankets/{desk.blanket.pk}/squares/A1/",
    ):
        assert words in letter.body
    assert post(SOON) == []


def test_whoever_holds_a_piece_reads_who_is_waiting_for_it(
    plan: Plan, cast: Cast, will: Member
) -> None:
    desk = plan(3, 1, mode=Mode.TRAVELLING, claim_limit=1)
    desk.knit("A1", cast.vera)
    desk.ask("B1", will)
    desk.ask("B1", cast.olga)
    desk.claim("B1", cast.vera)
    (letter,) = post(SOON)
    assert "16 November.\n\nWill is waiting for piece A1, which you hold.\n\nIf you" in letter.body
    assert "Olga" not in letter.body


@pytest.mark.parametrize("passing", [Passing.KEEP, Passing.MEET])
def test_nobody_is_told_who_waits_where_pieces_do_not_go_on_for_it(
    plan: Plan, cast: Cast, will: Member, passing: Passing
) -> None:
    desk = plan(3, 1, mode=Mode.TRAVELLING, claim_limit=1, passing=passing)
    desk.knit("A1", cast.vera)
    desk.ask("B1", will)
    desk.claim("B1", cast.vera)
    (letter,) = post(SOON)
    assert "16 November.\n\nIf you" in letter.body
    assert "waiting" not in letter.body


def test_another_days_reminder_is_not_made_up(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    assert post(SOON + DAY) == []


def test_who_took_it_today_knows_when_it_is_due(plan: Plan, cast: Cast) -> None:
    plan(claim_days=2).claim("A1", cast.vera)
    assert post(NOW) == []
    assert post(NOW + DAY) == []


def test_an_extension_brings_a_reminder_of_its_own(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    assert len(post(SOON)) == 1
    desk.extend("A1", cast.cora, days=5, at=SOON)
    (letter,) = post(SOON + 5 * DAY)
    assert "is due on Saturday 21 November" in letter.subject


def test_too_late_to_say_that_it_will_be_due(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    queue_due(SOON)
    collect(SOON + 3 * DAY)
    assert (mail.outbox, fates()) == ([], ["dropped"])


def test_a_letter_of_another_claim_is_another(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    assert len(post(SOON)) == 1
    desk.give_back("A1", cast.vera, at=SOON)
    desk.claim("A1", cast.vera, at=SOON)
    assert len(post(SOON + 12 * DAY)) == 1


def test_a_name_cannot_forge_a_header(desk: Desk, cast: Cast) -> None:
    desk.blanket.name = "Waves\nBcc: everybody@example.org"
    desk.blanket.save(update_fields=["name"])
    desk.claim("A1", cast.vera)
    (letter,) = post(SOON)
    assert "\n" not in letter.subject
    assert letter.recipients() == ["vera@example.org"]


def test_a_letter_that_cannot_be_put_together_is_tried_again_later(
    desk: Desk, cast: Cast, caplog: pytest.LogCaptureFixture
) -> None:
    queue_letter(member=cast.vera, subject=Subject.LATE, about="no claim", now=NOW)
    letter = Letter.objects.get()
    deliver(letter.pk, NOW)
    assert "DoesNotExist" in caplog.text
    letter.refresh_from_db()
    assert fates() == ["waiting"]
    assert (letter.attempt, letter.not_before > NOW) == (1, True)
