"""The forms that a table is taken along in."""

from collections.abc import Callable
from typing import IO

from .csv_file import write_csv
from .tables import Table
from .workbook import write_workbook

IN_MEMORY = 1 << 20  # bytes, above which a file is kept on the disk while it is written
FORMS: dict[str, tuple[str, Callable[[Table, IO[bytes]], None]]] = {
    "csv": ("text/csv; charset=utf-8; header=present", write_csv),
    "xlsx": ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", write_workbook),
}
