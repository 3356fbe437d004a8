"""Tables as CSV (RFC 4180), for spreadsheets and for programs."""

import csv
import io
from datetime import date, datetime
from typing import IO

from .tables import Cell, Table

# What a spreadsheet takes for the beginning of a formula: OWASP, "CSV Injection".
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def write_csv(table: Table, file: IO[bytes]) -> None:
    """Append ``table`` to ``file``: UTF-8, lines that end with CR LF, all texts quoted.

    It begins with a byte order mark: without one, spreadsheets take UTF-8 for something else.
    A text that would be read as a formula has an apostrophe before it.
    """
    text = io.TextIOWrapper(file, "utf-8-sig", newline="")
    # Texts are quoted even where they need not be: what reads ";" as the end of a cell must not
    # find a new cell, and so a formula, within one.
    writer = csv.writer(text, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow([column.title for column in table.columns])
    writer.writerows(map(_written, row) for row in table.rows)
    text.detach()  # else the file would be closed with it


def _written(cell: Cell) -> str | int:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return f"{cell:%Y-%m-%d %H:%M}"
    if isinstance(cell, date):
        return cell.isoformat()
    return defused(cell) if isinstance(cell, str) else cell


def defused(text: str) -> str:
    """``text`` so that no spreadsheet reads a formula; ``fused`` is the way back."""
    bare = text.lstrip("'")
    return f"'{text}" if bare.startswith(RISKY) or bare.lstrip().startswith(RISKY) else text


def fused(cell: str) -> str:
    """The text that ``defused`` made into ``cell``."""
    return cell[1:] if cell.startswith("'") and defused(cell[1:]) == cell else cell
