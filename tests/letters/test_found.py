"""The letter that tells coordinators what a finder has written."""

from django.core import mail

from drives.actions.circles.letters import choose_letters
from drives.actions.paper.codes import code_of
from drives.actions.paper.finders import leave_note, read_note
from drives.models import FinderNote, Letter, Subject
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.letters.conftest import collect, fates

FOUND = (
    "It lay on the bus & I have it.\n\n"
    "Ring me, I am at home in the evenings; it is dry and clean, and nothing is torn."
)


def leave(desk: Desk, contact: str = "0000 111") -> FinderNote:
    code = code_of(desk.square("A1"), now=NOW)
    return leave_note(code=code, text=FOUND, contact=contact, now=NOW)


def test_coordinators_are_told_and_the_contact_stays_on_the_site(desk: Desk, cast: Cast) -> None:
    leave(desk)
    collect(NOW)
    assert [letter.to for letter in mail.outbox] == [["cora@example.org"], ["olga@example.org"]]
    letter = mail.outbox[0]
    assert letter.subject == "A finder has left a message about A1 of Blanket"
    assert (
        "Somebody who does not belong to Harbour Lane has scanned the code of A1 of “Blanket”"
        in letter.body
    )
    assert (
        "\n> It lay on the bus & I have it.\n>\n"
        "> Ring me, I am at home in the evenings; it is dry and clean, and\n"
        "> nothing is torn.\n"
    ) in letter.body
    assert "They have said how to reach them." in letter.body
    assert f"\nhttps://blankets.example/blankets/{desk.blanket.pk}/\n" in letter.body
    assert "0000 111" not in letter.message().as_string()


def test_a_finder_who_does_not_say_how_to_reach_them(desk: Desk) -> None:
    leave(desk, contact="")
    collect(NOW)
    assert "They have not said how to reach them." in mail.outbox[0].body


def test_one_letter_for_each_note_to_each_who_wants_it(desk: Desk, cast: Cast) -> None:
    choose_letters(member=cast.olga, subject=Subject.FOUND, wanted=False)
    leave(desk)
    leave(desk)
    assert [letter.member for letter in Letter.objects.all()] == [cast.cora, cast.cora]


def test_what_somebody_has_seen_to_needs_no_letter(desk: Desk, cast: Cast) -> None:
    note = leave(desk)
    read_note(note=note, by=cast.olga, now=NOW)
    collect(NOW)
    assert (mail.outbox, set(fates())) == ([], {"dropped"})
