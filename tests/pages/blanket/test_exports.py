"""Files to take away: who gets which, and how they are sent."""

import io
from threading import BoundedSemaphore

import pytest
from openpyxl import load_workbook
from pytest_django import DjangoAssertNumQueries

from drives.exports import picture
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader


@pytest.fixture
def desk(plan: Plan, cast: Cast) -> Desk:
    desk = plan()
    desk.knit("A1", cast.vera)
    return desk


def test_the_blanket_offers_what_its_reader_may_have(
    desk: Desk, vera: Reader, cora: Reader
) -> None:
    of = f"/blankets/{desk.blanket.pk}"
    offered = vera.get(f"{of}/").text
    assert f"{of}/export/squares.xlsx" in offered
    assert f"{of}/map.png?ink=black" in offered
    assert "claims" not in offered.partition("Take it with you")[2].partition("<h2")[0]
    offered = cora.get(f"{of}/").text
    assert f"{of}/export/claims.csv" in offered
    assert f"{of}/export/events.xlsx" in offered


def test_a_csv_is_sent_as_a_file(desk: Desk, vera: Reader) -> None:
    answer = vera.get(f"/blankets/{desk.blanket.pk}/export/squares.csv")
    text = answer.getvalue().decode("utf-8-sig")
    assert text.startswith('"Square","Column"')
    assert '"A1",1,1,1,"","finished"' in text
    assert answer["Content-Type"] == "text/csv; charset=utf-8; header=present"
    assert answer["Content-Disposition"].startswith('attachment; filename="blanket-squares-20')
    assert answer["Cache-Control"] == "private, no-store"


def test_a_workbook_is_sent_as_a_file(desk: Desk, cora: Reader) -> None:
    answer = cora.get(f"/blankets/{desk.blanket.pk}/export/events.xlsx")
    sheet = load_workbook(io.BytesIO(answer.getvalue())).active
    assert sheet
    assert sheet.title == "Events"
    assert [row[3] for row in sheet.iter_rows(values_only=True)][1:] == [
        "Olga planned the blanket: 4 squares.",
        sheet["D3"].value,
        "Vera finished A1. Ready now: A2 and B1.",
    ]
    assert answer["Content-Type"].endswith("spreadsheetml.sheet")


@pytest.mark.parametrize("side", [3, 12])
@pytest.mark.parametrize(("name", "queries"), [("squares", 7), ("claims", 5), ("events", 6)])
def test_a_table_takes_as_many_queries_at_any_size(
    plan: Plan,
    cast: Cast,
    cora: Reader,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
    name: str,
    queries: int,
) -> None:
    desk = plan(side, side)
    desk.knit("A1 A2 B1", cast.vera)
    address = f"/blankets/{desk.blanket.pk}/export/{name}.csv"
    cora.get(address).getvalue()  # the plan is worked out once
    with django_assert_num_queries(queries):
        cora.get(address).getvalue()


def test_the_map_is_sent_as_a_file_once(desk: Desk, vera: Reader, cast: Cast) -> None:
    address = f"/blankets/{desk.blanket.pk}/map.svg"
    answer = vera.get(address)
    assert answer["Content-Type"] == "image/svg+xml"
    assert answer["Content-Disposition"].startswith('attachment; filename="blanket-map-20')
    assert answer.text.startswith("<svg xmlns=")
    tag = answer["ETag"]
    again = vera.get(address, headers={"If-None-Match": tag})
    assert (again.status_code, again.content) == (304, b"")
    assert vera.get(address, {"ink": "black"})["ETag"] != tag
    desk.claim("A2", cast.vera)
    assert vera.get(address, headers={"If-None-Match": tag}).status_code == 200


def test_who_finds_others_drawing_is_told_before_the_blanket_is_read(
    desk: Desk, vera: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twelve who asked at once for the largest map held up all other pages."""
    monkeypatch.setattr(picture, "_drawn_or_next", BoundedSemaphore(1))
    monkeypatch.setattr("drives.pages.blanket.exports.board_of", None)  # which would fail
    with picture.in_turn():
        answer = vera.get(f"/blankets/{desk.blanket.pk}/map.png")
    assert answer.status_code == 429
    assert answer["Retry-After"] == "5"


def test_the_map_is_a_picture_too(desk: Desk, vera: Reader) -> None:
    answer = vera.get(f"/blankets/{desk.blanket.pk}/map.png", {"ink": "black"})
    assert answer["Content-Type"] == "image/png"
    assert answer.content.startswith(b"\x89PNG\r\n")
    assert "blanket-map-black-20" in answer["Content-Disposition"]
