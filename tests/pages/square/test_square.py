"""Taking a square and counting its rows."""

from typing import Any

import pytest
from django.utils import timezone

from drives.models import Claim
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words


def on(desk: Desk, place: str, act: str) -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/{act}/"


def test_one_press_takes_the_square(vera: Reader, plan: Plan) -> None:
    desk = plan()
    text = vera.press(on(desk, "A1", "claim"))
    due = timezone.localtime(Claim.objects.get().due_at)
    assert f"A1 is yours until {due:%-d %B}. Happy knitting!" in text
    assert desk.states() == {"A1": "taken"}


def test_a_second_press_changes_nothing(vera: Reader, plan: Plan) -> None:
    desk = plan()
    vera.press(on(desk, "A1", "claim"))
    vera.press(on(desk, "A1", "claim"))
    assert Claim.objects.count() == 1


def test_a_square_that_waits_is_refused_with_what_is_in_the_way(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    response = vera.post(on(desk, "B2", "claim"))
    assert response.status_code == 409
    text = words(response)
    assert "B2 cannot be begun yet: it joins onto A2 and B1, not finished so far." in text
    assert "What can be begun now" in text


def test_a_taken_square_is_refused_with_who_has_it(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.paul)
    response = vera.post(on(desk, "A1", "claim"))
    assert response.status_code == 409
    assert "A1 is taken by Paul until" in words(response)


def test_the_limit_is_refused_with_what_would_help(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan(claim_limit=1)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    response = vera.post(on(desk, "A2", "claim"))
    assert response.status_code == 409
    assert "Vera has 1 square in hand already; finish it or give it back first." in words(response)


def test_only_volunteers_take_squares(cora: Reader, stan: Reader, plan: Plan) -> None:
    desk = plan()
    assert cora.post(on(desk, "A1", "claim")).status_code == 403
    assert stan.post(on(desk, "A1", "claim")).status_code == 404
    assert desk.states() == {}


def test_looking_takes_nothing(vera: Reader, plan: Plan) -> None:
    desk = plan()
    assert vera.get(on(desk, "A1", "claim")).status_code == 405
    assert desk.states() == {}


def test_the_row_counter_remembers_where_the_knitter_is(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    text = vera.press(on(desk, "A1", "rows"), {"rows_done": 2})
    assert "Row 3 of 40 wrong side k19, slip marker, k19 Then 38 stitches" in text
    assert "One row back" in text
    text = vera.press(on(desk, "A1", "rows"), {"rows_done": 40})
    assert "All 40 rows are done." in text


def test_htmx_gets_the_counter_alone(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    for sent, part in (({"card": 1}, '<section id="counter"'), ({}, '<div id="knit-row">')):
        response = vera.post(
            on(desk, "A1", "rows"), {"rows_done": 1, **sent}, headers={"HX-Request": "true"}
        )
        assert response.status_code == 200
        assert response.text.lstrip().startswith(part)
        assert "Row 2 of 40" in response.text


@pytest.mark.parametrize("sent", [{"card": 1}, {}])
def test_an_older_page_takes_no_row_back(
    cast: Cast, vera: Reader, plan: Plan, sent: dict[str, Any]
) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    for rows in (1, 2, 3):
        vera.press(on(desk, "A1", "rows"), {"rows_done": rows, "seen": rows - 1, **sent})
    stale = {"rows_done": 2, "seen": 1, **sent}
    answer = vera.post(on(desk, "A1", "rows"), stale, headers={"HX-Request": "true"})
    assert answer.status_code == 409
    assert "3 rows of A1 are counted by now, on another page. None was taken back." in answer.text
    assert "Row 4 of 40" in answer.text
    assert "<html" not in answer.text
    assert vera.post(on(desk, "A1", "rows"), stale).status_code == 409
    claim.refresh_from_db()
    assert claim.rows_done == 3
    vera.press(on(desk, "A1", "rows"), {"rows_done": 4, "seen": 0, **sent})  # forward it may go
    vera.press(on(desk, "A1", "rows"), {"rows_done": 3, "seen": 4, **sent})
    claim.refresh_from_db()
    assert claim.rows_done == 3


@pytest.mark.parametrize("sent", [{"card": 1}, {}])
def test_a_press_on_a_square_that_one_no_longer_holds_puts_no_page_into_the_page(
    cast: Cast, vera: Reader, plan: Plan, sent: dict[str, Any]
) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    vera.press(on(desk, "A1", "give-back"))
    answer = vera.post(
        on(desk, "A1", "rows"), {"rows_done": 1, **sent}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 409
    assert "<html" not in answer.text
    assert "Nobody has A1 in hand; claim it first." in answer.text
    assert "Look at A1" in answer.text


def test_only_who_holds_it_sees_the_row_to_knit(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    assert vera.get(on(desk, "A1", "knit")).url == f"/blankets/{desk.blanket.pk}/squares/A1/"
    desk.claim("A1", cast.vera)
    text = vera.read(on(desk, "A1", "knit"))
    assert "The first stitches" in text
    assert "Row 1 of 40 wrong side k20, slip marker, k20" in text
    vera.press(on(desk, "A1", "rows"), {"rows_done": 5})
    text = vera.read(on(desk, "A1", "knit"))
    assert "The first stitches" not in text
    assert "Row 6 of 40" in text
    assert "I did not count the rows" in text


@pytest.mark.parametrize("sent", ["", "many", "-1", "²", "9" * 30])
def test_a_count_that_is_none_does_no_harm(cast: Cast, vera: Reader, plan: Plan, sent: str) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    vera.press(on(desk, "A1", "rows"), {"rows_done": sent})
    claim.refresh_from_db()
    assert claim.rows_done == (40 if sent.startswith("9") else 0)


def test_nobody_moves_anothers_counter(cast: Cast, olga: Reader, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    assert olga.post(on(desk, "A1", "rows"), {"rows_done": 5}).status_code == 409
    claim.refresh_from_db()
    assert claim.rows_done == 0
