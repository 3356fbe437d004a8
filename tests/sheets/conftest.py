"""The circle of these tests and its blanket."""

from datetime import datetime
from typing import Any

import pytest

from drives.actions.paper.sheets import request_sheet
from drives.craft.layout.layout import Layout
from drives.models import Blanket, Options, Paper, Sheet
from drives.sheets.kind import Document
from drives.sheets.kinds import STATUS
from tests.cast import Cast
from tests.desk import NOW, Desk, new_blanket


@pytest.fixture(autouse=True)
def _own_files(own_files: None) -> None:
    """Every document is kept."""


@pytest.fixture
def came_in() -> datetime:
    return NOW


@pytest.fixture
def desk(cast: Cast) -> Desk:
    """A blanket of 3 × 3 squares of 20 stitches, for babies."""
    layout = Layout(3, 3, 20)
    return Desk(new_blanket(cast.olga, layout, for_babies=True, recipient="Moorside ward"))


def ask(
    blanket: Blanket,
    cast: Cast,
    now: datetime = NOW,
    paper: str = Paper.A4,
    kind: Document = STATUS,
    **chosen: Any,
) -> Sheet:
    options = Options(paper=paper, **chosen).stored()
    row = request_sheet(blanket=blanket, by=cast.cora, kind=kind, options=options, now=now)
    return Sheet.objects.select_related("blanket__drive__circle").get(pk=row.pk)


def read(sheet: Sheet) -> bytes:
    """The document that is kept for it."""
    with sheet.file.open() as file:
        return bytes(file.read())
