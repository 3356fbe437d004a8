"""Tables, read back as the programs of others read them."""

import csv
import io
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone, translation
from openpyxl import load_workbook

from accounts.models import Member
from drives.exports import tables
from drives.exports.csv_file import write_csv
from drives.exports.tables import Cell, Column, Table
from drives.exports.workbook import write_workbook
from drives.pages.common.log.line import event_line
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk

NASTY = [
    '=HYPERLINK("https://x.example","x")',
    "+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "  =1",
    "＝1",
]
HARMLESS = [
    'Olga, "the needle"; O’Hara',
    "two\nlines",
    "1e5",
    "007",
    "https://x.example",
    "mailto:a@b.example",
    "Łucja 🧶",
    "a-b",
    "{=1}",
]


def table(*rows: tuple[Cell, ...]) -> Table:
    return Table("Names", (Column("Name", 20), Column("Number", 8)), iter(rows))


def as_csv(table: Table) -> bytes:
    file = io.BytesIO()
    write_csv(table, file)
    return file.getvalue()


def as_workbook(table: Table) -> io.BytesIO:
    file = io.BytesIO()
    write_workbook(table, file)
    file.seek(0)
    return file


def read(table: Table) -> list[list[str]]:
    return list(csv.reader(io.StringIO(as_csv(table).decode("utf-8-sig"), newline="")))


def test_csv_is_what_rfc_4180_says_with_a_mark_for_spreadsheets() -> None:
    file = as_csv(table(("Olga", 3), ('say "no"\nnow', None)))
    assert file == (b'\xef\xbb\xbf"Name","Number"\r\n"Olga",3\r\n"say ""no""\nnow",""\r\n')


@pytest.mark.parametrize("text", NASTY)
def test_no_text_of_a_csv_begins_like_a_formula(text: str) -> None:
    assert read(table((text, -1)))[1] == [f"'{text}", "-1"]


@pytest.mark.parametrize("text", HARMLESS)
def test_other_texts_come_back_from_a_csv(text: str) -> None:
    assert read(table((text, 1)))[1] == [text, "1"]


def test_a_program_that_parts_cells_by_semicolons_finds_no_formula_either() -> None:
    file = as_csv(table(("Olga;=1+1", 1))).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(file, newline=""), delimiter=";"))
    assert not [cell for row in rows for cell in row if cell.startswith("=")]


def test_every_text_of_a_workbook_is_a_text() -> None:
    texts = NASTY + HARMLESS
    sheet = load_workbook(as_workbook(table(*((text, 1) for text in texts)))).active
    assert sheet
    cells = [row[0] for row in sheet.iter_rows(min_row=2)]
    # A carriage return is kept in the way of the format, which this reader does not undo.
    assert [cell.value for cell in cells] == [text.replace("\r", "_x000D_") for text in texts]
    assert {cell.data_type for cell in cells} <= {"s", "inlineStr"}
    assert not [cell for cell in cells if cell.hyperlink]


def test_a_workbook_has_moments_numbers_and_a_header_that_stays() -> None:
    at = datetime(2026, 11, 2, 10, 30)  # noqa: DTZ001 - by the circle's clock
    sheet = load_workbook(as_workbook(table((at, 3), (date(2026, 11, 3), 4), (None, -1)))).active
    assert sheet
    assert sheet.title == "Names"
    assert sheet.freeze_panes == "A2"
    assert [[cell.value for cell in row] for row in sheet.iter_rows()] == [
        ["Name", "Number"],
        [at, 3],
        [datetime(2026, 11, 3), 4],  # noqa: DTZ001 - a day
        [None, -1],
    ]
    assert sheet["A1"].font.bold
    assert sheet["A2"].is_date
    assert sheet["A3"].number_format == "yyyy-mm-dd"
    assert sheet.column_dimensions["A"].width > 15


@pytest.fixture
def _american() -> Iterator[None]:
    """As the pages of an American circle have it."""
    with translation.override("en-us"), timezone.override(ZoneInfo("America/New_York")):
        yield


@pytest.mark.usefixtures("_american")
def test_squares(desk: Desk, cast: Cast) -> None:
    Member.objects.filter(pk=cast.vera.pk).update(name="=Vera")
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    desk.blanket.squares.filter(column=1, row=1).update(colour="sea green")
    header, *rows = read(tables.squares(desk.blanket))
    assert header == [
        "Square", "Column", "Row", "Units wide", "Color", "State", "First stitches",
        "Rows to knit", "Joins onto", "With", "Until", "Knitted by",
        "Finished (America/New_York)", "Piece",
    ]  # fmt: skip
    assert rows == [
        ["A1", "1", "1", "1", "sea green", "finished", "40", "40", "", "", "", "'=Vera",
         "2026-11-02 05:00", "A1"],
        ["B1", "2", "1", "1", "", "taken", "40", "40", "A1", "Paul", "2026-11-16", "", "",
         ""],
        ["A2", "1", "2", "1", "", "ready", "40", "40", "A1", "", "", "", "", ""],
        ["B2", "2", "2", "1", "", "waiting", "40", "40", "A2 B1", "", "", "", "", ""],
    ]  # fmt: skip


def test_both_formats_have_the_same_rows(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("A2", cast.vera)
    for make in (tables.squares, tables.claims):
        sheet = load_workbook(as_workbook(make(desk.blanket))).active
        assert sheet
        rows = [list(map(written, row)) for row in sheet.iter_rows()]
        assert rows == read(make(desk.blanket))


def written(cell: Any) -> str:
    """What a cell of a workbook is in a CSV: a day, or a moment, as it shows it."""
    if isinstance(cell.value, datetime):
        timed = "hh" in cell.number_format
        return f"{cell.value:%Y-%m-%d %H:%M}" if timed else f"{cell.value:%Y-%m-%d}"
    return "" if cell.value is None else str(cell.value)


def test_claims(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("A2", cast.vera)
    desk.release("A2", cast.cora, at=NOW + DAY)
    header, *rows = read(tables.claims(desk.blanket))
    assert header == [
        "Square", "Taken by", "Taken (UTC)", "Due", "Rows done", "Ended (UTC)",
        "How it ended",
    ]  # fmt: skip
    now, due, later = "2026-11-02 10:00", "2026-11-16", "2026-11-03 10:00"
    assert rows == [
        ["A1", "Vera", now, due, "0", now, "finished"],
        ["A2", "Vera", now, due, "0", later, "released"],
    ]


def test_events(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    header, *rows = read(tables.events(desk.blanket, event_line))
    assert header == ["When (UTC)", "Who", "What", "In words"]
    assert [row[1:3] for row in rows] == [
        ["Olga", "planned"],
        ["Vera", "claimed"],
        ["Vera", "finished"],
    ]
    assert rows[2][3] == "Vera finished A1. Ready now: A2 and B1."
