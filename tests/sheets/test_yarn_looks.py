"""A colour that somebody chose is the one that every document shows, and makes it another one."""

from typing import Any

import pytest

from drives.actions.yarn.store import change_yarn
from drives.drawing.colours import mix
from drives.models import Ink, Yarn
from drives.sheets.kind import Document
from drives.sheets.kinds import CARDS, GIFT, MEETING, SET, STATUS, WALL
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.sheets.conftest import ask
from tests.store import FACTS, lay_colours, new_yarn

SUNSET, RAINBOW = "#ff7733", "#118899"
PALER = [mix(colour, "#ffffff", 0.55) for colour in (SUNSET, RAINBOW)]


@pytest.fixture
def coloured(desk: Desk, cast: Cast) -> Desk:
    """Names that tell no colour: one of the palette, one of the store."""
    lay_colours(desk, cast.olga, {"Vera's sunset": SUNSET}, A1="Vera's sunset", B1="R42")
    new_yarn(cast.cora, colour="R42", value=RAINBOW)
    desk.knit("A1 B1", cast.vera)
    return desk


def drafts(kind: Document, desk: Desk, cast: Cast, **chosen: Any) -> str:
    sheet = ask(desk.blanket, cast, kind=kind, **chosen)
    return "".join(next(part) for part in kind.parts(sheet, NOW))


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        (STATUS, [SUNSET, RAINBOW]),
        (WALL, [SUNSET, RAINBOW]),
        (GIFT, [SUNSET, RAINBOW]),
        (CARDS, PALER),
        (SET, [SUNSET, RAINBOW, *PALER]),
    ],
    ids=str,
)
def test_it_is_drawn(coloured: Desk, cast: Cast, kind: Document, values: list[str]) -> None:
    shown = drafts(kind, coloured, cast)
    assert [value for value in values if f'fill="{value}"' not in shown] == []
    if kind is not GIFT:  # which is a picture; its colours become greys for black ink
        black = drafts(kind, coloured, cast, ink=Ink.BLACK)
        assert [value for value in values if value in black] == []


@pytest.mark.parametrize("kind", [STATUS, WALL, GIFT, CARDS, SET], ids=str)
def test_another_look_makes_another_document(coloured: Desk, cast: Cast, kind: Document) -> None:
    first = ask(coloured.blanket, cast, kind=kind)
    assert ask(coloured.blanket, cast, kind=kind) == first
    new_yarn(cast.cora, colour="unused", value="#000000")
    assert ask(coloured.blanket, cast, kind=kind) == first
    look_otherwise(cast)
    second = ask(coloured.blanket, cast, kind=kind)
    lay_colours(coloured, cast.olga, {"Vera's sunset": "#ffff00"})
    assert len({first, second, ask(coloured.blanket, cast, kind=kind)}) == 3


def test_a_document_that_draws_no_yarn_stays(coloured: Desk, cast: Cast) -> None:
    first = ask(coloured.blanket, cast, kind=MEETING)
    look_otherwise(cast)
    assert ask(coloured.blanket, cast, kind=MEETING) == first


def look_otherwise(cast: Cast) -> None:
    facts = FACTS | {"colour": "R42", "value": "#00ff00"}
    yarn = Yarn.objects.get(colour="R42")
    change_yarn(yarn=yarn, by=cast.cora, now=NOW, **facts)
