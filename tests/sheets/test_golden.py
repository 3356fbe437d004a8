"""Documents look as they did when somebody last looked at them. See DEVELOPERS.md."""

from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from drives.actions.circles import calendar
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.places import Place
from drives.models import Gift
from drives.sheets.kind import Document
from drives.sheets.kinds import CARDS, FINISHING, GIFT, MEETING, STATUS, WALL
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.golden import alike, difference, keep, read, writes
from tests.sheets.paper import Printed
from tests.sheets.pictures import Picture, picture

COLOURS = ("dusty pink", "teal", "mustard", "", "cream")


@pytest.fixture
def desk(cast: Cast) -> Desk:
    """A blanket with something of everything."""
    layout = Layout(
        6,
        7,
        20,
        missing=frozenset([Place(6, 7)]),
        large=frozenset([Large(Place(2, 3), 2)]),
        seams=frozenset([Seam(Place(3, 1), Place(4, 1)), Seam(Place(3, 2), Place(4, 2))]),
    )
    blanket = new_blanket(
        cast.olga, layout, for_babies=True, recipient="Moorside ward", claim_limit=3
    )
    desk = Desk(blanket)
    desk.knit("A1 D1 B1", cast.vera, at=NOW - 20 * DAY)
    desk.claim("A2", cast.vera, at=NOW - 20 * DAY)
    desk.claim("C1", cast.paul, by=cast.cora, at=NOW - 2 * DAY)
    for square in blanket.squares.all():
        square.colour = COLOURS[(square.column + 2 * square.row) % len(COLOURS)]
        square.save(update_fields=["colour"])
    calendar.add_meeting(drive=blanket.drive, day=date(2026, 11, 14), by=cast.cora, now=NOW)
    Gift.objects.create(
        blanket=blanket,
        width=Decimal(61),
        height=Decimal(70),
        fibres="80 % acrylic, 20 % wool",
        care={"wash": "MACHINE_30_MILD", "tumble": "NOT", "natural": "FLAT", "iron": "NOT"},
        given_on=date(2026, 12, 1),
    )
    return desk


def page_of(desk: Desk, cast: Cast, kind: Document, number: int = 0, **chosen: Any) -> Picture:
    return picture(Printed(ask(desk.blanket, cast, kind=kind, **chosen)).bytes, number)


PAGES: dict[str, tuple[Document, int, dict[str, Any]]] = {
    "status": (STATUS, 0, {}),
    "status-large": (STATUS, 0, {"print": "large", "paper": "Letter"}),
    "wall": (WALL, 0, {"ink": "black"}),
    "wall-large": (WALL, 0, {"print": "large", "paper": "Letter"}),
    "meeting": (MEETING, 0, {}),
    "finishing": (FINISHING, 0, {}),
    "gift": (GIFT, 0, {}),
    "cards": (CARDS, 0, {"places": ("A2",)}),
}

CODE = (slice(374, 448), slice(318, 392))  # on the card, which has another one each time
SHEETS = {"wall-first": 0, "wall-sheet": 4}


@pytest.mark.parametrize("name", PAGES)
def test_looks_as_it_did(desk: Desk, cast: Cast, name: str) -> None:
    kind, number, chosen = PAGES[name]
    page = page_of(desk, cast, kind, number, **chosen)
    if kind == CARDS:
        assert page[CODE].min() < 128
        page[CODE] = 255
    compare(name, page)


def test_a_map_on_several_sheets_looks_as_it_did(cast: Cast) -> None:
    """Its first page, and the sheet at the lower left with a strip on two sides."""
    layout = Layout(11, 16, 20, seams=frozenset([Seam(Place(3, 2), Place(3, 3))]))
    desk = Desk(new_blanket(cast.olga, layout))
    desk.knit("A1 B1", cast.vera)
    pdf = Printed(ask(desk.blanket, cast, kind=WALL, print="large")).bytes
    for name, number in SHEETS.items():
        compare(name, picture(pdf, number))


def compare(name: str, page: Picture) -> None:
    if writes():
        keep(name, page)
    kept = read(name)
    assert alike(page, kept), (name, difference(page, kept))


@pytest.mark.parametrize("name", [*PAGES, *SHEETS])
def test_notices_what_has_moved_or_is_gone_and_minds_no_other_type(name: str) -> None:
    kept = read(name)
    moved = np.full_like(kept, 255)
    moved[4:] = kept[:-4]  # 2 mm
    assert not alike(moved, kept)
    gone = kept.copy()
    darkest = int(np.argmax([(255 - kept[top : top + 40]).sum() for top in range(len(kept) - 40)]))
    gone[darkest : darkest + 40] = 255
    assert not alike(gone, kept)
    assert alike(np.roll(kept, 1, axis=1), kept)
    heavier = np.clip(kept.astype(np.int16) - 12 * (kept < 250), 0, 255).astype(np.uint8)
    assert alike(heavier, kept)
