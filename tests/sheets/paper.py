"""Reading a sheet back from its file."""

from collections.abc import Iterator
from datetime import datetime
from functools import cached_property
from io import BytesIO
from typing import Any

import pypdfium2 as pdfium
from pypdf import PdfReader

from drives.models import Sheet
from drives.sheets.render import render
from tests.desk import NOW

HYPHEN = "\ufffe"
"""What pdfium makes of one at the end of a line."""


def texts(pdf: bytes) -> list[str]:
    """What stands on each page, with single spaces."""
    # pypdf would do it too, but takes longer than the pages took to be drawn.
    told = (page.get_textpage().get_text_range() for page in pdfium.PdfDocument(pdf))
    return [" ".join(text.replace(HYPHEN, "-").split()) for text in told]


class Printed:
    """A rendered sheet. ``pages`` is the text of each page, with single spaces."""

    def __init__(self, sheet: Sheet, now: datetime = NOW) -> None:
        self.bytes = render(sheet, now=now, progress=lambda percent: None)

    @cached_property
    def pdf(self) -> PdfReader:
        return PdfReader(BytesIO(self.bytes))

    @cached_property
    def pages(self) -> list[str]:
        return texts(self.bytes)

    @cached_property
    def words(self) -> str:
        return " ".join(self.pages)

    @property
    def root(self) -> Any:
        return self.pdf.trailer["/Root"]

    def size_mm(self) -> tuple[float, float]:
        box = self.pdf.pages[0].mediabox
        return float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4

    def tags(self) -> list[Any]:
        """The elements of the structure, in the order of reading."""
        return list(_walk(self.root["/StructTreeRoot"]))

    def fonts(self) -> dict[str, Any]:
        """The fonts of all pages by their names, without the tags of subsets."""
        return {
            str(font["/BaseFont"]).partition("+")[2]: font["/DescendantFonts"][0]["/FontDescriptor"]
            for page in self.pdf.pages
            for font in page["/Resources"]["/Font"].values()  # type: ignore[index]
        }


def _walk(node: Any) -> Iterator[Any]:
    node = node.get_object()
    if isinstance(node, list):
        for child in node:
            yield from _walk(child)
    elif isinstance(node, dict):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from _walk(node["/K"])
