"""Letters go only to addresses that are shown to be their reader's."""

from allauth.account.models import EmailAddress
from django.test import Client
from django.urls import reverse

from accounts.models import Member
from drives.actions.circles.letters import choose_letters, queue_letter, wants_letter
from drives.models import Letter, Subject
from tests.cast import NOW, Cast
from tests.letters.conftest import post


def unprove(member: Member) -> None:
    EmailAddress.objects.filter(user=member.user).update(verified=False)


def test_nothing_is_queued_for_an_unproven_address(cast: Cast) -> None:
    unprove(cast.vera)
    assert not queue_letter(member=cast.vera, subject=Subject.LATE, about="1", now=NOW)
    assert queue_letter(member=cast.cora, subject=Subject.LATE, about="1", now=NOW)


def test_a_letter_that_waits_is_not_sent_to_one_either(cast: Cast) -> None:
    queue_letter(member=cast.vera, subject=Subject.DUE_SOON, about="1", now=NOW)
    unprove(cast.vera)
    assert [letter for letter in post(NOW) if "vera@example.org" in letter.to] == []
    assert Letter.objects.get(member=cast.vera).dropped_at


def test_another_address_that_is_proven_does_not_count(cast: Cast) -> None:
    unprove(cast.vera)
    EmailAddress.objects.create(user=cast.vera.user, email="v@example.net", verified=True)
    assert not queue_letter(member=cast.vera, subject=Subject.LATE, about="1", now=NOW)


def test_the_choice_of_letters_is_kept_while_nothing_is_sent(cast: Cast, client: Client) -> None:
    unprove(cast.vera)
    assert cast.vera.user
    client.force_login(cast.vera.user)
    page = client.get(reverse("drives:letters", args=[cast.circle.pk])).content.decode()
    assert "Nothing is sent yet" in page
    assert "checked" in page
    choose_letters(member=cast.vera, subject=Subject.LATE, wanted=False)
    assert not wants_letter(cast.vera, Subject.LATE)
