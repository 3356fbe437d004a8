"""Turning letters off: by one press from within, by the mail program, or on the page."""

import re

import pytest
from django.test import Client

from accounts.actions import change_roles
from accounts.models import Member, Role
from drives.actions.circles.letters import choose_letters, off_link, reader_in, wants_letter
from drives.models import Subject, Subscription
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk
from tests.letters.conftest import post

SITE = "https://blankets.example"


@pytest.fixture
def nobody() -> Client:
    """A visitor without a session, whose requests are held against forgery as in real life."""
    return Client(enforce_csrf_checks=True)


@pytest.fixture
def off(cast: Cast) -> str:
    """Where Vera turns off that she hears of late squares."""
    return off_link(cast.vera, Subject.LATE).removeprefix(SITE)


def test_every_letter_says_where_it_is_turned_off(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    (letter,) = post(NOW + 12 * DAY)
    address = off_link(cast.vera, Subject.DUE_SOON)
    assert str(letter.body).endswith(
        "\n-- \nSend me no more letters of this kind (one press, no signing in):\n"
        f"{address}\n\n"
        "All letters that Harbour Lane can send you:\n"
        f"{SITE}/circles/{cast.circle.pk}/letters/\n"
    )
    written = letter.message().as_bytes().decode()
    assert re.search(rf"^List-Unsubscribe:\s+<{re.escape(address)}>$", written, re.MULTILINE)
    assert "List-Unsubscribe-Post: List-Unsubscribe=One-Click\n" in written
    assert "Auto-Submitted: auto-generated\n" in written


def test_a_look_changes_nothing_and_a_press_turns_it_off(
    nobody: Client, off: str, cast: Cast
) -> None:
    seen = nobody.get(off)
    assert b"Harbour Lane writes to you: when a square is late." in seen.content
    assert b"Send me no more of these" in seen.content
    assert wants_letter(cast.vera, Subject.LATE)
    pressed = nobody.post(off)
    assert pressed.status_code == 200
    assert b"does not write to you any more: when a square is late." in pressed.content
    assert not wants_letter(cast.vera, Subject.LATE)
    assert wants_letter(cast.vera, Subject.DUE_SOON)
    assert not nobody.cookies


def test_a_mail_program_turns_it_off_as_often_as_it_likes(
    nobody: Client, off: str, cast: Cast
) -> None:
    for _time in range(2):
        answer = nobody.post(off, {"List-Unsubscribe": "One-Click"})
        assert answer.status_code == 200  # RFC 8058: not sent on
    assert not wants_letter(cast.vera, Subject.LATE)
    assert Subscription.objects.count() == 1


def test_it_can_be_turned_on_again(nobody: Client, off: str, cast: Cast) -> None:
    assert b"Send them again after all" in nobody.post(off).content
    assert b"Send them again after all" in nobody.get(off).content
    assert b"writes to you: when" in nobody.post(off, {"again": "yes"}).content
    assert wants_letter(cast.vera, Subject.LATE)


def test_a_forged_link_leads_nowhere(nobody: Client, off: str, cast: Cast) -> None:
    token = off.split("/")[-2]
    other = off_link(cast.cora, Subject.LATE).split("/")[-2]
    mixed = f"{other.split('.')[0]}.{token.split('.')[1]}"
    for forged in ("x", token[:-1], token + "x", mixed):
        assert reader_in(forged) is None
        for ask in (nobody.get, nobody.post):
            assert ask(f"/letters/off/{forged}/").status_code == 404
    assert not Subscription.objects.exists()


def test_the_link_outlives_the_letters(nobody: Client, cast: Cast) -> None:
    old = off_link(cast.vera, "newsletter").removeprefix(SITE)
    for answer in (nobody.get(old), nobody.post(old), nobody.post(old, {"again": "yes"})):
        assert answer.status_code == 200  # RFC 8058: what a mail program asks for is so already
        assert b"These letters do not exist any more" in answer.content
        assert f'href="/circles/{cast.circle.pk}/letters/"'.encode() in answer.content
    assert not Subscription.objects.exists()


def test_the_link_outlives_a_membership(nobody: Client, off: str, cast: Cast) -> None:
    Member.objects.filter(pk=cast.vera.pk).update(left_at=NOW, is_volunteer=False)
    assert b"does not write to you any more" in nobody.get(off).content
    assert nobody.post(off).status_code == 200
    strange = off_link(Member(pk=10**9), Subject.LATE).removeprefix(SITE)
    assert nobody.get(strange).status_code == 404


def test_letters_can_be_chosen_on_a_page(client: Client, cast: Cast) -> None:
    assert cast.vera.user
    client.force_login(cast.vera.user)
    page = f"/circles/{cast.circle.pk}/letters/"
    shown = client.get(page).content.decode()
    assert re.findall(r'value="([\w-]+)"[^>]* checked', shown) == ["due-soon", "late"]
    assert client.post(page, {"wanted": ["weekly", "late"]}).status_code == 302
    shown = client.get(page).content.decode()
    assert re.findall(r'value="([\w-]+)"[^>]* checked', shown) == ["late", "weekly"]
    assert client.post(page, {}).status_code == 302
    assert not any(wants_letter(cast.vera, subject) for subject in Subject)


def test_only_what_ones_roles_are_told_is_offered(client: Client, cast: Cast) -> None:
    assert cast.vera.user
    assert cast.cora.user
    page = f"/circles/{cast.circle.pk}/letters/"
    client.force_login(cast.cora.user)
    for subject in Subject:
        assert f'value="{subject}"' in client.get(page).content.decode()
    client.force_login(cast.vera.user)
    assert 'value="monday"' not in client.get(page).content.decode()
    assert client.post(page, {"wanted": ["monday"]}).status_code == 422
    assert not wants_letter(cast.vera, Subject.MONDAY)


def test_who_no_longer_coordinates_gets_no_more_of_their_letters(cast: Cast) -> None:
    choose_letters(member=cast.cora, subject=Subject.FOUND, wanted=True)
    assert wants_letter(cast.cora, Subject.FOUND)
    change_roles(member=cast.cora, by=cast.olga, roles=[Role.VOLUNTEER], now=NOW)
    assert not wants_letter(cast.cora, Subject.FOUND)


def test_nobody_on_paper_can_want_any(cast: Cast) -> None:
    for subject in Subject:
        choose_letters(member=cast.paul, subject=subject, wanted=True)
        assert not wants_letter(cast.paul, subject)
