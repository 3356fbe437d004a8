"""Whose words and whose clock a page uses."""

import pytest
from django.test import Client
from django.utils import timezone

from accounts.access import member_of, memberships_of
from accounts.models import Circle
from shared.words import AMERICAN, speak, speaking, term
from tests.cast import Cast


def test_each_english_has_its_word() -> None:
    assert term("mitred") == "mitred"
    with speaking("american"):
        assert (term("mitred"), term("Colour"), term("cast off")) == (
            "mitered",
            "Color",
            "bind off",
        )
    assert term("Colour") == "Colour"


def test_the_words_of_craft_md_are_in_the_table() -> None:
    assert {
        "mitred": "mitered",
        "tension": "gauge",
        "cast off": "bind off",
        "double knitting": "light worsted",
        "colour": "color",
    }.items() <= AMERICAN.items()


def test_a_word_that_both_say_alike_is_a_mistake() -> None:
    with pytest.raises(KeyError):
        term("ridge")


def test_what_is_spoken_inside_does_not_leak() -> None:
    with speaking("british"):
        speak("american")
        assert term("colour") == "color"
    assert term("colour") == "colour"


def test_a_circles_loader_settles_words_and_clock(cast: Cast) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(english="american", time_zone="America/Halifax")
    assert cast.vera.user
    with speaking("british"), timezone.override(None):
        member_of(cast.vera.user, cast.circle.pk)
        assert (term("mitred"), timezone.get_current_timezone_name()) == (
            "mitered",
            "America/Halifax",
        )
    with speaking("british"), timezone.override(None):
        memberships_of(cast.vera.user)
        assert term("mitred") == "mitered"
    assert timezone.get_current_timezone_name() == "UTC"


def test_an_invitation_speaks_the_circles_english(cast: Cast, client: Client) -> None:
    from accounts import actions
    from accounts.models import Role

    Circle.objects.filter(pk=cast.circle.pk).update(english="american")
    token = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=1, now=timezone.now()
    ).token
    assert "mitered-square" in client.get(f"/join/{token}/").content.decode()
    assert term("mitred") == "mitred"
