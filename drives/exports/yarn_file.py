"""The yarn store as a CSV file: written to be read again."""

import csv
import io
from collections.abc import Iterable, Iterator
from typing import IO

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.fibre.care import care_lines
from drives.craft.fibre.fibres import fibres_line
from drives.models import Yarn
from drives.models.told_care import KINDS

from .csv_file import fused, write_csv
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
    "care": gettext_lazy("in the sentences of the form, one after the other"),
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
SENTENCES = {
    one.sentence.rstrip(".").casefold(): (name, one.name)
    for name, kind in KINDS.items()
    for one in kind
}


class Unreadable(ValueError):
    """A file is none of ours; the text says why, in a sentence."""


def write_yarns(yarns: Iterable[Yarn], file: IO[bytes]) -> None:
    """Append the store to ``file``, as ``read_rows`` reads it."""
    columns = tuple(Column(name, len(name)) for name in COLUMNS)
    write_csv(Table("Yarn", columns, map(_cells, yarns)), file)


def read_rows(sent: bytes) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row with the number of the line on which it ends; raises Unreadable on the way.

    A row has the columns that the file has, their cells without spaces around them.
    """
    try:
        text = sent.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unreadable(_("The file is not UTF-8; save it as CSV in UTF-8.")) from None
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        names = [name.strip().lower() for name in next(lines, [])]
        _check(names)
        for count, cells in enumerate(filter(any, lines), 1):
            if count > MOST_ROWS:
                told = {"most": MOST_ROWS}
                raise Unreadable(_("The file has more than %(most)d yarns; part it.") % told)
            if len(cells) != len(names):
                told = {"line": lines.line_num, "cells": len(cells), "columns": len(names)}
                sentence = _(
                    "Line %(line)d has %(cells)d cells, and there are %(columns)d columns."
                )
                raise Unreadable(sentence % told)
            values = (fused(cell.strip()).strip() for cell in cells)
            yield lines.line_num, dict(zip(names, values, strict=True))
    except csv.Error as error:
        told = {"line": lines.line_num}
        raise Unreadable(_("Line %(line)d is no line of CSV.") % told) from error


def care_in(told: str) -> dict[str, str]:
    """Treatments by their kinds, as rows keep them; raises ValueError for another sentence."""
    found: dict[str, str] = {}
    for part in told.split("."):
        sentence = " ".join(part.split())
        if not sentence:
            continue
        if sentence.casefold() not in SENTENCES:
            wrong = _("“%(sentence)s” is none of the sentences of the form.")
            raise ValueError(wrong % {"sentence": sentence[:60]})
        name, value = SENTENCES[sentence.casefold()]
        if found.setdefault(name, value) != value:
            wrong = _("“%(sentence)s” contradicts what stands before it.")
            raise ValueError(wrong % {"sentence": sentence[:60]})
    return found


def _check(names: list[str]) -> None:
    unknown = [name for name in names if name not in COLUMNS]
    twice = {name for name in names if names.count(name) > 1}
    if "colour" not in names:
        text = _("The first line names the columns, and one of them must be “colour”.")
        raise Unreadable(text)
    if unknown:
        text = _("There is no column called “%(name)s”.") % {"name": unknown[0][:40]}
        raise Unreadable(text)
    if twice:
        text = _("The column “%(name)s” stands there twice.") % {"name": min(twice)}
        raise Unreadable(text)


def _cells(yarn: Yarn) -> tuple[Cell, ...]:
    care, fibres = yarn.told_care, yarn.told_fibres
    sentences = [line for line, told in zip(care_lines(care), care, strict=True) if told]
    cells: dict[str, Cell] = {
        "colour": yarn.colour,
        "looks": yarn.value,
        "dye lot": yarn.dye_lot,
        "category": yarn.category,
        "fibres": "" if fibres is None else fibres_line(fibres),
        "metres in 100 g": yarn.metres_per_100_grams,
        "care": " ".join(sentences),
        "colour-fast": {None: "", True: "yes", False: "no"}[yarn.fast],
        "swatch stitches": yarn.swatch_stitches,
        "swatch rows": yarn.swatch_rows,
        "swatch grams": "" if yarn.swatch_grams is None else f"{yarn.swatch_grams:f}",
        "given by": yarn.given_by,
        "where": yarn.place,
        "grams": yarn.grams,
    }
    return tuple(cells[name] for name in COLUMNS)
