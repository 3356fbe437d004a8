"""Everything for a meeting, as one document."""

import pytest

from drives.actions.paper.documents import request_document
from drives.models import Options, Sheet
from drives.sheets.kinds import CARDS, SET
from drives.sheets.render import render
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed


@pytest.fixture
def begun(desk: Desk, cast: Cast) -> Desk:
    desk.knit("A1 B1", cast.vera)
    desk.claim("A2", cast.paul, by=cast.cora)
    return desk


def test_holds_each_document_once_and_is_always_the_same(begun: Desk, cast: Cast) -> None:
    sheet = ask(begun.blanket, cast, kind=SET, to_a_page=2)
    printed = Printed(sheet)
    pages = printed.pages
    assert "What lies below, in this order" in pages[0]
    assert "1 card of a square in hand: for who has them Paul: A2" in pages[0]
    assert "1 card of a square that can be begun: best first, C1" in pages[0]
    assert "1 label for a bag: A1" in pages[0]
    at = [
        [number for number, page in enumerate(pages) if words in page]
        for words in (
            "2 of 9 squares finished, 22 %",
            "Who comes",
            "A2 Paul, due 16 November 2026",
            "C1 Taken by",
            "You have found this bag?",
        )
    ]
    assert [len(each) for each in at] == [1] * 5
    assert sorted(at) == at
    assert at[2] == at[3]  # two to a page
    assert printed.pdf.metadata
    assert printed.pdf.metadata.title == "Blanket: everything for the meeting"
    figures = [tag for tag in printed.tags() if tag["/S"] == "/Figure"]
    assert all(figure.get("/Alt") for figure in figures)
    assert all("/FontFile2" in font for font in printed.fonts().values())

    # And with it each of the documents that it holds.
    progress: list[int] = []
    assert render(sheet, now=NOW, progress=progress.append) == printed.bytes
    assert progress == sorted(progress)
    assert len(progress) > 6
    assert (progress[0], progress[-1]) == (5, 90)


def test_waits_behind_what_somebody_waits_for(begun: Desk, cast: Cast) -> None:
    for kind, in_batch in ((SET, True), (CARDS, False)):
        sheet = request_document(
            blanket=begun.blanket, by=cast.cora, kind=kind, options=Options(), now=NOW
        )
        assert Sheet.objects.get(pk=sheet.pk).in_batch is in_batch
