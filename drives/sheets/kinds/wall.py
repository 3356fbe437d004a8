"""The wall map: to be hung up, and coloured in by hand square by square."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import NamedTuple

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.places import Place, letters
from drives.drawing import wall_svg
from drives.drawing.wall_keys import key_plan, wall_sign
from drives.drawing.wall_view import WallView, YarnSign
from drives.models import Options, Sheet
from drives.readings.board import Board, board_of
from drives.readings.looks import yarn_looks
from drives.sheets.kind import Document, Part, minded_and_drawn
from drives.sheets.tiling import AROUND, Tiling, on_one, on_several, size_of
from drives.words.map import SIGNS


class Key(NamedTuple):
    """One entry of the legend."""

    picture: str
    words: str


def _sheets(sheet: Sheet, now: datetime) -> list[Part]:
    """One sheet; or a first page that says how the others hang together, and each of them."""
    options, board = sheet.chosen, board_of(sheet.blanket)
    yarns = _yarns(board, options)
    facts = {
        "sheet": sheet,
        "options": options,
        "now": now,
        "drive": sheet.blanket.drive,
    }
    if not options.tiled:
        return [_one(facts, board, "A3", yarns, options)]
    tiling = on_several(board.plan.layout, options.paper, large=options.large)
    if tiling.across * tiling.up == 1:
        return [_one(facts, board, options.paper, yarns, options)]
    facts |= _facts(board, options.paper, tiling, yarns)
    return [_first(facts, tiling), *_others(facts, board, tiling, yarns)]


def _facts(
    board: Board, paper: str, tiling: Tiling, yarns: Mapping[Place, YarnSign]
) -> dict[str, object]:
    named = tiling.scale.named
    return {
        "paper": f"{paper} landscape" if tiling.landscape else paper,
        "legend": _legend(board, yarns if named else {}),
        "named": named,
    }


def _one(
    facts: dict[str, object],
    board: Board,
    paper: str,
    yarns: Mapping[Place, YarnSign],
    options: Options,
) -> Part:
    """As large as the legend leaves room for."""
    title = _("Wall map of %(blanket)s") % {"blanket": board.blanket}
    for around in AROUND:
        tiling = on_one(board.plan.layout, size_of(paper), large=options.large, around=around)
        drawn = _map(board, tiling.views[0][0], tiling, yarns, title)
        told = facts | _facts(board, paper, tiling, yarns)
        yield render_to_string("sheets/wall.html", told | {"map": drawn})


def _first(facts: dict[str, object], tiling: Tiling) -> Part:
    more = {
        "paper": facts["paper"],
        "tiling": tiling,
        "number": tiling.across * tiling.up,
        "key": key_plan(tiling.views, title=_("How the sheets hang together"), named=True),
    }
    yield render_to_string("sheets/wall_first.html", facts | more)


def _others(
    facts: dict[str, object], board: Board, tiling: Tiling, yarns: Mapping[Place, YarnSign]
) -> Iterator[Part]:
    for row, views in enumerate(tiling.views, start=1):
        for column, view in enumerate(views, start=1):
            where = {"row": row, "rows": tiling.up, "column": column, "columns": tiling.across}
            name = _("Row %(row)d of %(rows)d, from the left %(column)d of %(columns)d") % where
            key = key_plan(tiling.views, title=_("Where this sheet hangs"), here=view)
            more = {"name": name, "view": view, "key": key}
            yield _tile(facts | more, board, view, tiling, yarns)


def _tile(
    facts: dict[str, object],
    board: Board,
    view: WallView,
    tiling: Tiling,
    yarns: Mapping[Place, YarnSign],
) -> Part:
    title = _("Wall map of %(blanket)s, from %(first)s to %(last)s") % {
        "blanket": board.blanket,
        "first": view.first,
        "last": view.last,
    }
    drawn = _map(board, view, tiling, yarns, title)
    yield render_to_string("sheets/wall_tile.html", facts | {"map": drawn})


def _map(
    board: Board, view: WallView, tiling: Tiling, yarns: Mapping[Place, YarnSign], title: str
) -> str:
    return wall_svg(
        board.plan,
        view,
        tiling.scale,
        title=title,
        glue=_("glue here"),
        finished=board.finished,
        yarns=yarns,
    )


def _yarns(board: Board, options: Options) -> dict[Place, YarnSign]:
    """A letter for each yarn, by how it is called; its colour too, where there is colour ink."""
    names = sorted(set(board.colours.values()), key=str.lower)
    looks = yarn_looks(board.blanket) if options.in_colour else {}
    known = {
        name: YarnSign(letters(number).lower(), looks.get(name, ""))
        for number, name in enumerate(names, start=1)
    }
    return {place: known[name] for place, name in board.colours.items()}


def _legend(board: Board, yarns: Mapping[Place, YarnSign]) -> list[Key]:
    """What the signs mean that this map has."""
    layout = board.plan.layout
    told = {
        "empty": _("not finished: colour it in as soon as it is"),
        "finished": _("was finished when this was printed") if board.finished else "",
        "seam": _("seam: not joined, sewn at the end") if layout.seams else "",
        "missing": _("no square here") if layout.missing else "",
    }
    keys = [
        Key(wall_sign(sign, title=str(SIGNS[sign])), words) for sign, words in told.items() if words
    ]
    named = {yarns[place]: board.colours[place] for place in yarns}
    return keys + [
        Key(
            wall_sign("yarn", each, title=str(SIGNS["yarn"])) if each.colour else "",
            f"{each.letter}: {named[each]}",
        )
        for each in sorted(named, key=lambda each: (len(each.letter), each.letter))
    ]


WALL = Document(
    code="wall",
    label=gettext_lazy("wall map"),
    purpose=gettext_lazy("A large map to be coloured in by hand as squares are finished."),
    uses=("tiled",),
    facts=minded_and_drawn,
    parts=_sheets,
    style="wall.css",
)
