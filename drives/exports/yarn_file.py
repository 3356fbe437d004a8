"""The yarn store as a CSV file: written to be read again, by readers of any language.

Fibres and care are codes, as in ``craft.fibre.notation``: ``wash-40 bleach-no tumble-low``. Files
that were taken before told care in English sentences; these are read as well.
"""

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import IO

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.fibre.notation import CARE_CODES, care_code, fibres_code
from drives.models import Yarn

from .csv_file import fused, write_csv
from .former_care import SENTENCES
from .tables import Cell, Column, Table

COLUMNS = {
    "colour": gettext_lazy("its name, as on the band"),
    "looks": gettext_lazy("how it is drawn, as #rrggbb; empty: as its name says"),
    "dye lot": gettext_lazy("from the band; empty where it is not known"),
    "category": gettext_lazy("yarn weight category, 0 to 7"),
    "fibres": gettext_lazy(
        "in per cent, like 80 % acrylic, 20 % wool; empty where nobody knows them"
    ),
    "metres in 100 g": gettext_lazy("a whole number"),
    "ball grams": gettext_lazy("what one ball weighs, whole"),
    "ball price": gettext_lazy("of one ball, in the circle’s currency, like 2.75"),
    "care": gettext_lazy(
        "codes with a space between them, like wash-40 bleach-no; all of them stand below"
    ),
    "colour-fast": gettext_lazy("yes, no, or empty where nobody has tried"),
    "swatch stitches": gettext_lazy("of a weighed swatch"),
    "swatch rows": gettext_lazy("of a weighed swatch; a ridge is two rows"),
    "swatch grams": gettext_lazy("of a weighed swatch"),
    "given by": gettext_lazy("only with their consent that all members see it"),
    "where": gettext_lazy("where it is"),
    "grams": gettext_lazy("in the store, whole; what is in members’ hands is not in the file"),
}
"""What each column of the file holds; of a file that is brought, all but ``colour`` may lack."""

MOST_ROWS = 500
MOST_BYTES = 500_000


_TREATMENTS = {code: (kind, value.name) for code, (kind, value) in CARE_CODES.items()} | SENTENCES


class UnreadableFile(ValueError):
    """A file is none of ours; the text says why, in a sentence."""


def write_yarns(yarns: Iterable[Yarn], file: IO[bytes]) -> None:
    """Append the store to ``file``, as ``read_rows`` reads it."""
    columns = tuple(Column(name, len(name)) for name in COLUMNS)
    write_csv(Table("Yarn", columns, map(_cells, yarns)), file)


def read_rows(sent: bytes) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row with the number of the line on which it ends; raises UnreadableFile on the way.

    A row has the columns that the file has, their cells without spaces around them.
    """
    try:
        text = sent.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise UnreadableFile(_("The file is not UTF-8; save it as CSV in UTF-8.")) from None
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        names = [name.strip().lower() for name in next(lines, [])]
        _check(names)
        for count, cells in enumerate(filter(any, lines), 1):
            if count > MOST_ROWS:
                told = {"most": MOST_ROWS}
                raise UnreadableFile(_("The file has more than %(most)d yarns; part it.") % told)
            if len(cells) != len(names):
                told = {"line": lines.line_num, "cells": len(cells), "columns": len(names)}
                sentence = _(
                    "Line %(line)d has %(cells)d cells, and there are %(columns)d columns."
                )
                raise UnreadableFile(sentence % told)
            values = (fused(cell.strip()).strip() for cell in cells)
            yield lines.line_num, dict(zip(names, values, strict=True))
    except csv.Error as error:
        told = {"line": lines.line_num}
        raise UnreadableFile(_("Line %(line)d is no line of CSV.") % told) from error


def care_in(told: str) -> dict[str, str]:
    """Treatments by their kinds, as rows keep them; raises ValueError for what is no code."""
    found: dict[str, str] = {}
    for part in _parts(told):
        known = _TREATMENTS.get(part.casefold())
        if known is None:
            raise ValueError(_("“%(code)s” is no code for care.") % {"code": part[:60]})
        kind, value = known
        if found.setdefault(kind, value) != value:
            wrong = _("“%(code)s” contradicts what stands before it.")
            raise ValueError(wrong % {"code": part[:60]})
    return found


def _parts(told: str) -> list[str]:
    """Codes, or the sentences of older files."""
    words = told.split()
    if any(word.casefold() in CARE_CODES for word in words):
        return words
    return list(filter(None, (" ".join(part.split()) for part in told.split("."))))


def _check(names: list[str]) -> None:
    unknown = [name for name in names if name not in COLUMNS]
    twice = {name for name, count in Counter(names).items() if count > 1}
    if "colour" not in names:
        text = _("The first line names the columns, and one of them must be “colour”.")
        raise UnreadableFile(text)
    if unknown:
        text = _("There is no column called “%(name)s”.") % {"name": unknown[0][:40]}
        raise UnreadableFile(text)
    if twice:
        text = _("The column “%(name)s” stands there twice.") % {"name": min(twice)}
        raise UnreadableFile(text)


def _cells(yarn: Yarn) -> tuple[Cell, ...]:
    cells: dict[str, Cell] = {
        "colour": yarn.colour,
        "looks": yarn.value,
        "dye lot": yarn.dye_lot,
        "category": yarn.category,
        "fibres": fibres_code(yarn.told_fibres),
        "metres in 100 g": yarn.metres_per_100_grams,
        "ball grams": yarn.ball_grams,
        "ball price": "" if yarn.price is None else f"{yarn.price:f}",
        "care": care_code(yarn.told_care),
        "colour-fast": {None: "", True: "yes", False: "no"}[yarn.fast],
        "swatch stitches": yarn.swatch_stitches,
        "swatch rows": yarn.swatch_rows,
        "swatch grams": "" if yarn.swatch_grams is None else f"{yarn.swatch_grams:f}",
        "given by": yarn.given_by,
        "where": yarn.place,
        "grams": yarn.grams,
    }
    return tuple(cells[name] for name in COLUMNS)
