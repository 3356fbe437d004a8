"""Saturday's letter: the status sheets of all that is unfinished, when they are made."""

from datetime import timedelta
from email.message import Message

import pytest
from django.core import mail
from django.core.files.base import ContentFile

from accounts.models import Member
from drives.actions.circles.letters import choose_letters
from drives.actions.paper import sheets
from drives.actions.paper.sheets import MOST_ATTEMPTS
from drives.letters.weekly import PATIENT_ATTEMPTS
from drives.models import Letter, Sheet, Subject
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk
from tests.letters.conftest import collect, fates, move, post

SATURDAY = NOW + 12 * DAY  # 14 November, 10 in the morning in London
A_WHILE = timedelta(minutes=20)


@pytest.fixture
def vera(cast: Cast) -> Member:
    """She wants the sheets."""
    choose_letters(member=cast.vera, subject=Subject.WEEKLY, wanted=True)
    return cast.vera


def make(sheet: Sheet) -> None:
    """What a worker does, with a drawing that is quicker made."""
    taken = sheets.take_sheet(sheet_id=sheet.pk, now=SATURDAY)
    assert taken is not None
    name = Sheet.file.field.storage.save(
        "sheets/x.pdf", ContentFile(b"%PDF-1.7 of " + str(sheet.blanket).encode())
    )
    assert sheets.finish_sheet(taken=taken, file=name, now=SATURDAY)


def fail(sheet: Sheet) -> None:
    for _attempt in range(MOST_ATTEMPTS):
        taken = sheets.take_sheet(sheet_id=sheet.pk, now=SATURDAY)
        assert taken is not None
        sheets.put_back_sheet(taken=taken, error="too-slow")


def test_nobody_gets_it_who_has_not_asked(desk: Desk) -> None:
    post(SATURDAY)
    assert not Sheet.objects.exists()
    assert not Letter.objects.exists()


def test_it_waits_for_its_sheets_and_brings_them(desk: Desk, vera: Member, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera)
    desk.claim("B1", cast.vera)
    desk.extend("B1", cast.cora, days=10)
    assert post(SATURDAY) == []
    sheet = Sheet.objects.get()
    assert (sheet.kind, sheet.in_batch, sheet.options) == ("status", True, {"paper": "A4"})
    assert sheet.requested_by == vera
    assert post(SATURDAY + A_WHILE) == []
    assert Sheet.objects.count() == 1
    make(sheet)
    collect(SATURDAY + A_WHILE)
    (letter,) = mail.outbox
    assert letter.to == ["vera@example.org"]
    assert letter.subject == "How the blankets of Harbour Lane stand"
    for words in (
        "This week’s status sheet is attached",
        "“Blanket”, Warm laps\n1 of 4 squares are finished; 1 can be begun.\n"
        f"https://blankets.example/blankets/{desk.blanket.pk}/\n",
    ):
        assert words in letter.body
    assert letter.attachments == [
        (f"blanket-{desk.blanket.pk}-2026-11-14.pdf", b"%PDF-1.7 of Blanket", "application/pdf")
    ]
    assert post(SATURDAY + 2 * A_WHILE) == []


def test_all_who_want_it_get_the_same_sheets(plan: Plan, vera: Member, cast: Cast) -> None:
    choose_letters(member=cast.cora, subject=Subject.WEEKLY, wanted=True)
    done, _small, _large = plan(1, 1), plan(1, 1), plan(2, 1)
    done.knit("A1", cast.vera)
    post(SATURDAY)
    for sheet in Sheet.objects.all():
        make(sheet)
    collect(SATURDAY)
    assert [letter.to for letter in mail.outbox] == [["cora@example.org"], ["vera@example.org"]]
    assert [len(letter.attachments) for letter in mail.outbox] == [2, 2]
    assert Sheet.objects.count() == 2


def test_it_goes_without_what_failed_and_says_so(plan: Plan, vera: Member) -> None:
    plan(1, 1), plan(2, 1)
    post(SATURDAY)
    first, second = Sheet.objects.order_by("pk")
    make(first)
    assert post(SATURDAY + A_WHILE) == []
    fail(second)
    collect(SATURDAY + A_WHILE)
    (letter,) = mail.outbox
    assert len(letter.attachments) == 1
    assert str(letter.body).count("Its sheet could not be made this time") == 1


def test_with_no_sheet_at_all_it_says_how_things_stand(desk: Desk, vera: Member) -> None:
    post(SATURDAY)
    make(Sheet.objects.get())
    Sheet.objects.get().file.delete(save=False)  # gone from the disk, and the row does not know
    collect(SATURDAY)
    (letter,) = mail.outbox
    assert letter.attachments == []
    assert "This is how things stand this week." in letter.body
    assert "Its sheet could not be made this time" in letter.body


def test_it_waits_for_files_that_do_not_answer_and_then_says_so(desk: Desk, vera: Member) -> None:
    post(SATURDAY)
    make(Sheet.objects.get())
    Sheet.objects.update(file="sheets")  # what is there is a folder, and cannot be read
    collect(SATURDAY)
    assert (mail.outbox, fates()) == ([], ["waiting"])
    Letter.objects.update(attempt=PATIENT_ATTEMPTS, not_before=SATURDAY)
    collect(SATURDAY)
    (letter,) = mail.outbox
    assert letter.attachments == []
    assert "Its sheet could not be made this time" in letter.body


def test_when_all_is_finished_there_is_none(plan: Plan, vera: Member, cast: Cast) -> None:
    plan(1, 1).knit("A1", cast.vera)
    post(SATURDAY)
    assert not Letter.objects.exists()


def test_sheets_that_came_too_late_are_not_news(desk: Desk, vera: Member) -> None:
    post(SATURDAY)
    make(Sheet.objects.get())
    collect(SATURDAY + DAY)
    assert (mail.outbox, fates()) == ([], ["dropped"])


def test_american_circles_have_american_paper(desk: Desk, vera: Member, cast: Cast) -> None:
    move(cast.circle, english="american")
    post(SATURDAY)
    assert Sheet.objects.get().options == {"paper": "Letter"}


def test_its_pdf_can_be_opened_by_who_gets_it(desk: Desk, vera: Member) -> None:
    post(SATURDAY)
    make(Sheet.objects.get())
    collect(SATURDAY)
    parts: list[Message] = list(mail.outbox[0].message().walk())
    (pdf,) = [part for part in parts if part.get_content_type() == "application/pdf"]
    assert pdf.get_payload(decode=True) == b"%PDF-1.7 of Blanket"
    assert pdf["Content-Disposition"].startswith("attachment;")
