"""Tables as workbooks (Office Open XML)."""

from datetime import date, datetime
from typing import IO

from xlsxwriter import Workbook

from .tables import Table

OPTIONS = {
    "constant_memory": True,  # one row at a time, as many as there may be
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}


def write_workbook(table: Table, file: IO[bytes]) -> None:
    """Write ``table`` into the empty ``file``: one sheet, with its header always in sight.

    Days and moments are dates to the spreadsheet, numbers are numbers, and a text is nothing but a
    text.
    """
    with Workbook(file, OPTIONS) as book:
        sheet = book.add_worksheet(table.name)
        bold = book.add_format({"bold": True})
        moment = book.add_format({"num_format": "yyyy-mm-dd hh:mm", "align": "left"})
        day = book.add_format({"num_format": "yyyy-mm-dd", "align": "left"})
        sheet.freeze_panes(1, 0)
        for at, column in enumerate(table.columns):
            sheet.set_column(at, at, column.width)
            sheet.write_string(0, at, column.title, bold)
        for line, row in enumerate(table.rows, 1):
            for at, cell in enumerate(row):
                if isinstance(cell, datetime):
                    sheet.write_datetime(line, at, cell, moment)
                elif isinstance(cell, date):
                    sheet.write_datetime(line, at, cell, day)
                elif isinstance(cell, int):
                    sheet.write_number(line, at, cell)
                elif cell:
                    sheet.write_string(line, at, cell)
