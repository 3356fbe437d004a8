"""What is typed to paint squares, however much it is."""

import time

import pytest
from django.test import Client

from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.pages.colours.paint import LONGEST, places_in
from tests.cast import Cast
from tests.conftest import Plan

SMALL = plan(Layout(3, 3, 20, large=frozenset({Large(Place(1, 1), 2)})))


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("a3", "A3"),
        ("C1, B3;C1", "B3 C1"),
        ("A1–C3", "A1 A3 B3 C1 C2 C3"),
        ("C3-A2", "A3 B3 C2 C3"),
        ("", ""),
    ],
)
def test_places_and_ranges(typed: str, found: str) -> None:
    assert places_in(typed, SMALL) == set(map(Place.parse, found.split()))


@pytest.mark.parametrize("typed", ["B2", "A1 D9", "x", "A2-B2"])
def test_where_there_is_no_square(typed: str) -> None:
    with pytest.raises(ValueError, match=r"place|square"):
        places_in(typed, SMALL)


def test_many_large_ranges_on_the_largest_blanket_are_read_at_once() -> None:
    largest = plan(Layout(150, 150, 20))
    words = " ".join(f"A1-ET{150 - number % 9}" for number in range(400))
    assert len(words) < LONGEST

    begun = time.process_time()
    assert len(places_in(words, largest)) == 150 * 150
    assert time.process_time() - begun < 2


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["places", "press"])
def test_a_page_does_not_read_on_for_ever(cast: Cast, plan: Plan, name: str) -> None:
    desk, browser = plan(), Client()
    assert cast.cora.user
    browser.force_login(cast.cora.user)
    sent = {"colour": "", "places": "A1", name: "A1 " * 300_000}  # bodies are bounded: 1 MB

    begun = time.process_time()
    path = f"/blankets/{desk.blanket.pk}/colours/paint/"
    assert browser.post(path, sent).status_code == 422
    assert browser.get(path, {name: "A1 " * 50_000}).status_code == 200
    assert time.process_time() - begun < 3
