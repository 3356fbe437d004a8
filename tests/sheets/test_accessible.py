"""Every printed document is held against a checker of PDF/UA-1 that is not ours.

It knows 16 of the 106 rules that a machine can check; fonts, which it does not look at, are
checked beside each document.
"""

from pathlib import Path

import pytest
from pdfua.validator import Validator

from drives.sheets.kind import Document
from drives.sheets.kinds import LABEL, PRINTED
from tests.cast import Cast
from tests.desk import Desk
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed

# A guess that looks for scopes at the headings of a table; WeasyPrint lets the cells name them.
BY_THEIR_CELLS = "UA-15-003"


@pytest.mark.parametrize("kind", PRINTED.values(), ids=str)
def test_a_checker_finds_nothing(kind: Document, desk: Desk, cast: Cast, tmp_path: Path) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    piece = desk.blanket.pieces.get().pk if kind == LABEL else None
    sheet = ask(desk.blanket, cast, kind=kind, piece=piece)
    file = tmp_path / "sheet.pdf"
    file.write_bytes(Printed(sheet).bytes)
    report = Validator().validate(str(file))
    found = [finding.to_dict() for finding in report.findings if finding.rule_id != BY_THEIR_CELLS]
    assert found == []
    assert report.outcomes
