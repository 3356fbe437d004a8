"""Monday's letter to those who look after a circle."""

import pytest

from accounts.models import Member
from drives.actions.circles import calendar
from drives.actions.circles.letters import choose_letters
from drives.models import Mode, Sheet, Status, Subject
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, seams
from tests.letters.conftest import fates, move, post

MONDAY = NOW + 21 * DAY  # 23 November, 10 in the morning in London


@pytest.fixture
def quiet(cast: Cast) -> None:
    """Nobody is reminded, so that only Monday's letters go out, and of those Cora's alone."""
    for member in (cast.olga, cast.vera):
        choose_letters(member=member, subject=Subject.LATE, wanted=False)
    for member in (cast.olga, cast.stan.memberships.get()):
        choose_letters(member=member, subject=Subject.MONDAY, wanted=False)


def test_it_goes_to_those_who_look_after_the_circle(desk: Desk, cast: Cast) -> None:
    """To Stan, in whose circle nothing is late, goes none."""
    choose_letters(member=cast.vera, subject=Subject.LATE, wanted=False)
    desk.claim("A1", cast.vera, at=MONDAY - 18 * DAY)
    letters = post(MONDAY)
    assert [letter.to for letter in letters] == [["olga@example.org"], ["cora@example.org"]]
    assert post(MONDAY) == []


@pytest.mark.usefixtures("quiet")
def test_no_news_needs_no_letter(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera, at=MONDAY - DAY)
    assert post(MONDAY) == []
    assert fates() == ["dropped"]


@pytest.mark.usefixtures("quiet")
def test_it_says_what_is_late_and_how_to_reach_those_on_paper(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3, seams=seams("A1-B1"))
    desk.claim("A1", cast.paul, by=cast.cora, at=MONDAY - 18 * DAY)
    desk.claim("B1", cast.vera, at=MONDAY - 16 * DAY)
    calendar.add_meeting(
        drive=desk.blanket.drive, day=(MONDAY + 5 * DAY).date(), by=cast.cora, now=NOW
    )
    calendar.add_meeting(
        drive=desk.blanket.drive, day=(MONDAY + 15 * DAY).date(), by=cast.cora, now=NOW
    )
    (letter,) = post(MONDAY)
    assert letter.subject == "Harbour Lane on 23 November: what is late, and who waits for whom"
    assert (
        text(letter.body)
        == f"""
Hello Cora,

This is what may need your eye this week.

Late:

- A1 of “Blanket”: Paul (without a login: the page “People” says how to reach them), \
since 19 November; it goes back to the circle after 26 November.
- B1 of “Blanket”: Vera, since 21 November; it goes back to the circle after 28 November.

Squares that many wait for:

- A1 of “Blanket”: 6 others wait; Paul is late with it.
- B1 of “Blanket”: 5 others wait; Vera is late with it.

Meetings to come:

- Saturday 28 November: Warm laps

Your circle:

https://blankets.example/circles/{cast.circle.pk}/
"""
    )


@pytest.mark.usefixtures("quiet")
def test_it_says_who_waits_for_a_piece(plan: Plan, cast: Cast, will: Member) -> None:
    desk = plan(3, 1, mode=Mode.TRAVELLING, claim_limit=1)
    desk.knit("A1", cast.vera)
    desk.ask("B1", will, at=NOW + DAY)
    (letter,) = post(MONDAY)
    waits = "- A1 of “Blanket”, which Vera has: Will has been waiting for it since 3 November."
    assert f"Who waits for a piece:\n\n{waits}\n" in letter.body
    desk.ask("B1", cast.olga, at=NOW + 2 * DAY)
    desk.arrange("A1", will, by=cast.vera, at=MONDAY)
    (letter,) = post(MONDAY + 7 * DAY)
    goes = "- A1 of “Blanket” goes from Vera to Will, as agreed on 23 November without a day."
    assert f"Pieces that are to change hands:\n\n{goes}\n" in letter.body
    assert "Will and Olga have been waiting for it, the first since 3 November." in letter.body
    desk.send("A1", by=cast.vera, at=MONDAY + 8 * DAY)
    (letter,) = post(MONDAY + 14 * DAY)
    assert "has been on its way from Vera to Will since 1 December." in letter.body


@pytest.mark.usefixtures("quiet")
def test_names_are_not_escaped_as_if_for_a_page(desk: Desk, cast: Cast) -> None:
    move(cast.circle, name="Knit & Natter")
    desk.claim("A1", cast.vera, at=MONDAY - 18 * DAY)
    (letter,) = post(MONDAY)
    assert letter.subject.startswith("Knit & Natter on")
    assert "&amp;" not in letter.body


def text(body: object) -> str:
    """What stands before the lines about letters."""
    return "\n" + str(body).partition("\n-- \n")[0].rstrip("\n") + "\n"


@pytest.mark.usefixtures("quiet")
def test_it_says_who_could_begin_what_by_the_rota(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    desk.claim("A2", cast.vera, at=MONDAY - 18 * DAY)
    begins = {
        "member": cast.paul.pk, "name": "Paul", "place": "B1", "begin": "2026-11-24",
        "end": "2026-11-30", "giver": None, "why": "piece", "waiting": 2,
    }  # fmt: skip
    Sheet.objects.create(
        blanket=desk.blanket, kind="rota", fingerprint="1", status=Status.DONE,
        requested_by=cast.cora, requested_at=MONDAY, finished_at=MONDAY,
        foretold={"assigned": [begins]},
    )  # fmt: skip
    (letter,) = post(MONDAY)
    assert "Who could begin what this week:" in letter.body
    told = " ".join(letter.body.split())
    assert (
        "Paul: B1 of “Blanket”, from Tuesday 24 November. "
        "2 squares wait for it, and what it joins onto is at hand." in told
    )
