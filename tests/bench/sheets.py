"""The status sheet, from the rows to the file, against WeasyPrint on the same finished HTML."""

import os
import tempfile
from collections.abc import Iterator

import django
from django.core.management import call_command
from django.utils import timezone

from .figures import Figure, milliseconds, side_by_side

COLUMNS, ROWS = 12, 16


def figures() -> Iterator[Figure]:
    with tempfile.TemporaryDirectory(prefix="mitrewise-bench-") as data:
        os.environ["MITREWISE_DATA"] = data
        os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
        django.setup()
        call_command("migrate", verbosity=0)
        yield _figure()


def _figure() -> Figure:
    from drives.models import Sheet
    from drives.sheets import press
    from drives.sheets.kinds import STATUS
    from drives.sheets.render import render

    from .seed import sheet_of

    sheet: Sheet = sheet_of(COLUMNS, ROWS, kind=STATUS.code, options={"paper": "A4"})
    now = timezone.now()
    html = next(STATUS.parts(sheet, now)[0])

    def ours() -> bytes:
        return render(sheet, now=now, progress=lambda percent: None)

    def floor() -> bytes:
        return press.pdf([press.lay_out(html)])

    ours()  # what is done once in a process: fonts, templates, the plan
    mine, bare = side_by_side(ours, floor, times=5)
    return Figure(
        f"status sheet {COLUMNS} × {ROWS} / WeasyPrint on its HTML",
        milliseconds(mine), milliseconds(bare), mine / bare, 1.15, at_least=False,
    )  # fmt: skip
