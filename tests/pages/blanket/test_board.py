"""The board of a blanket, and the part of it that refreshes itself."""

import json
from html import unescape

import pytest
from django.core.cache import cache
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from drives.actions.drives.drives import change_drive
from drives.models import Claim
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, SETTINGS, Desk
from tests.pages.conftest import Reader, words


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 finished, B1 in Vera's hands, A2 ready."""
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera, at=timezone.now())
    return desk


def test_everybody_sees_progress_what_is_ready_and_who_has_what(desk: Desk, vera: Reader) -> None:
    text = vera.read(f"/blankets/{desk.blanket.pk}/")
    due = timezone.localtime(Claim.objects.open().get().due_at)
    assert "1 of 4 squares finished (25 %)" in text
    assert "A2 pick up 21 on A1 (top edge) + cast on 19" in text
    assert f"B1 Vera (you) {due - 14 * DAY:%-d %B} {due:%-d %B}" in text
    assert "Vera took B1, until" in text


def test_each_square_of_the_map_is_a_link_with_a_name(desk: Desk, vera: Reader) -> None:
    text = vera.get(f"/blankets/{desk.blanket.pk}/").text
    here = f'href="/blankets/{desk.blanket.pk}/squares'
    assert f'{here}/A1/" aria-label="A1, finished, joins onto nothing"' in text
    assert f'{here}/B1/" aria-label="B1, taken, joins onto A1, with Vera"' in text
    assert f'{here}/A2/" aria-label="A2, ready, joins onto A1"' in text
    assert f'{here}/B2/" aria-label="B2, waiting, joins onto A2 and B1"' in text


def test_what_is_late_is_told_and_marked(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.paul, at=timezone.now() - 15 * DAY)
    response = vera.get(f"/blankets/{desk.blanket.pk}/")
    assert "In hand 1 late" in words(response)
    assert 'aria-label="A1, taken, joins onto nothing, with Paul, late"' in response.text


def test_only_those_who_look_after_others_see_the_ways_to_act(
    desk: Desk, olga: Reader, cora: Reader, vera: Reader
) -> None:
    address = f"/blankets/{desk.blanket.pk}/"
    acts = "Finished: B1 Give back: B1 More time: B1 Release: B1"
    assert acts in olga.read(address)
    assert acts in cora.read(address)
    assert acts not in vera.read(address)
    assert "Change the layout" in olga.read(address)
    assert "Change the layout" not in cora.read(address)


def test_a_finished_blanket_says_what_is_left_to_do(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan(1, 1)
    desk.knit("A1", cast.vera)
    assert "All squares are finished. Weave in the ends" in vera.read(
        f"/blankets/{desk.blanket.pk}/"
    )


def test_strangers_find_nothing(desk: Desk, stan: Reader) -> None:
    for page in ("", "live/", "log/"):
        assert stan.get(f"/blankets/{desk.blanket.pk}/{page}").status_code == 404


@pytest.mark.parametrize("side", [10, 40])
def test_the_board_takes_as_many_queries_at_any_size(
    cast: Cast,
    vera: Reader,
    plan: Plan,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
) -> None:
    desk = plan(side, side)
    desk.claim("A1", cast.vera)
    address = f"/blankets/{desk.blanket.pk}/"
    vera.get(address)  # the plan is worked out once
    cache.clear()
    with django_assert_num_queries(13):  # one of them for how its yarns look
        vera.get(address)
    with django_assert_num_queries(10):  # what was seen just now is kept
        vera.get(address)


def test_an_unchanged_board_is_not_sent_again(
    desk: Desk, vera: Reader, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    first = vera.get(address)
    assert " ".join(first.text.split()).startswith('<div id="live"')
    with django_assert_num_queries(8):  # one of them for how its yarns look
        again = vera.get(address, headers={"If-None-Match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_the_tag_of_the_page_is_the_one_that_it_asks_with(desk: Desk, vera: Reader) -> None:
    page = vera.get(f"/blankets/{desk.blanket.pk}/").text
    asked = unescape(page.partition('hx-headers="')[2].partition('"')[0])
    tag = vera.get(f"/blankets/{desk.blanket.pk}/live/")["ETag"]
    assert json.loads(asked) == {"If-None-Match": tag}


def test_a_change_is_sent(cast: Cast, desk: Desk, vera: Reader) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    tag = vera.get(address)["ETag"]
    desk.finish("B1", cast.vera)
    again = vera.get(address, headers={"If-None-Match": tag})
    assert again.status_code == 200
    assert "2 of 4 squares finished" in again.text


def test_becoming_late_is_a_change(desk: Desk, vera: Reader) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    tag = vera.get(address)["ETag"]
    then = timezone.now()
    Claim.objects.open().update(taken_at=then - 15 * DAY, due_at=then - DAY)
    again = vera.get(address, headers={"If-None-Match": tag})
    assert again.status_code == 200
    assert "late" in again.text


def test_another_readers_board_is_another(desk: Desk, vera: Reader, cora: Reader) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    tag = vera.get(address)["ETag"]
    assert cora.get(address, headers={"If-None-Match": tag}).status_code == 200


def test_a_change_of_the_mode_is_a_change_of_the_board(
    cast: Cast, desk: Desk, vera: Reader
) -> None:
    address = f"/blankets/{desk.blanket.pk}/live/"
    tag = vera.get(address)["ETag"]
    drive = desk.blanket.drive
    change_drive(drive=drive, by=cast.olga, now=timezone.now(), **SETTINGS | {"mode": "travelling"})
    assert vera.get(address, headers={"If-None-Match": tag}).status_code == 200
