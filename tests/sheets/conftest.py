"""The circle of these tests and its blanket."""

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from pytest_django import Settings

from drives.actions.paper.sheets import request_sheet
from drives.craft.layout.layout import Layout
from drives.models import Blanket, Options, Paper, Sheet, blanket
from drives.sheets.kind import Document
from drives.sheets.kinds import STATUS
from tests.cast import Cast, make_cast
from tests.desk import NOW, Desk, new_blanket


@pytest.fixture(autouse=True)
def _no_plan_remembered() -> None:
    """Rows of a test that was rolled back come again with the same id at the same moment."""
    blanket._plan_of.cache_clear()


@pytest.fixture(autouse=True)
def _files_of_its_own(settings: Settings, tmp_path: Path) -> None:
    """Each test begins without files: sheets of the last one had the same ids."""
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def cast(db: None) -> Cast:
    return make_cast(NOW)


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
