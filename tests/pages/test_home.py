"""The first page."""

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.actions import remove_member
from accounts.models import Member
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY

from .conftest import Reader


def test_a_visitor_reads_what_it_is_for_and_sees_a_blanket(anybody: Reader) -> None:
    response = anybody.get("/")
    assert "One blanket, many pairs of hands" in response.text
    assert response.text.count("<svg") == 1


def test_the_square_in_hand_stands_first_with_its_row_and_date(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera, at=timezone.now())
    claim.rows_done = 6
    claim.save(update_fields=["rows_done"])
    text = vera.read("/")
    assert text.startswith("In your hands A1 in Blanket You are at row 7 of 40.")
    due = timezone.localtime(claim.due_at)
    assert f"Due on {due.day} {due:%B}." in text


def test_a_late_square_says_so(cast: Cast, vera: Reader, plan: Plan) -> None:
    plan().claim("A1", cast.vera, at=timezone.now() - 15 * DAY)
    assert "It is late." in vera.read("/")


def test_with_nothing_in_hand_the_best_squares_are_offered_with_why(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    plan(3, 3).knit("A1", cast.vera)
    text = vera.read("/")
    assert text.startswith("What you could knit now")
    assert "B1 ready Cast on 19 + pick up 21 on A1 (right edge)." in text
    assert "3 squares, one after the other, wait for it. Take B1" in text


def test_a_travelling_piece_is_offered_with_who_has_it(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    plan(mode="travelling").knit("A1", cast.paul)
    text = vera.read("/")
    assert "Its piece is with Paul; taking it puts you in line. Ask for the piece of B1" in text
    assert "Take B1" not in text


def test_whoever_has_the_piece_is_told_so(cast: Cast, vera: Reader, plan: Plan) -> None:
    plan(mode="travelling").knit("A1", cast.vera)
    assert "You have what it is knitted onto. Take B1" in vera.read("/")


def test_what_can_be_begun_at_once_is_always_among_the_best(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    seams = frozenset(Seam(Place(4, row), Place(5, row)) for row in range(1, 6))
    plan(layout=Layout(5, 5, 20, seams=seams), mode="travelling").knit("A1 B1 A2", cast.paul)
    text = vera.read("/")
    # Six squares wait one after the other for C1, B2 and A3 alike, five for E1.
    assert "Ask for the piece of C1" in text
    assert "Ask for the piece of A3" in text
    assert "Take E1" in text
    assert "All 4 squares that can be begun now" in text


def test_at_the_limit_nothing_more_of_the_drive_is_offered(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan(claim_limit=1)
    assert "Take A1" in vera.read("/")
    desk.claim("A1", cast.vera)
    assert "You could take one more" not in vera.read("/")


def test_who_looks_after_others_sees_what_is_late(
    cast: Cast, cora: Reader, vera: Reader, plan: Plan
) -> None:
    plan().claim("A1", cast.paul, at=timezone.now() - 15 * DAY)
    assert "Late A1 in Blanket: with Paul, due on" in cora.read("/")
    assert "with Paul" not in vera.read("/")


def test_who_does_not_knit_is_offered_no_square(cora: Reader, plan: Plan) -> None:
    plan()
    text = cora.read("/")
    assert "Take A1" not in text
    assert "0 of 4 squares finished" in text


def test_a_newcomer_is_told_what_to_do_first(vera: Reader, cast: Cast) -> None:
    assert "its squares stand here" in vera.read("/")
    remove_member(member=cast.vera, by=cast.olga, now=timezone.now())
    assert "First steps Somebody has invited you?" in vera.read("/")


def test_other_circles_squares_are_not_shown(stan: Reader, plan: Plan) -> None:
    plan()
    assert "Blanket" not in stan.read("/")


@pytest.mark.parametrize("blankets", [1, 4])
def test_the_page_takes_as_many_queries_for_any_number_of_blankets(
    vera: Reader, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries, blankets: int
) -> None:
    for _blanket in range(blankets):
        plan(mode="travelling").knit("A1", Member.objects.get(name="Vera"))
    vera.get("/")  # each plan is worked out once
    with django_assert_num_queries(17):
        vera.get("/")
