"""How the yarns of a blanket look, for every drawing of it."""

from collections.abc import Collection, Iterable, Mapping

from django.db.models import CharField, Value

from drives.craft.places import Place
from drives.drawing.colours import yarn_colour
from drives.models.blanket import Blanket
from drives.models.palette import Colour
from drives.models.square import Square
from drives.models.yarn import Yarn

from .board import Board

# Which part of the one query a row comes from; what comes first decides.
PALETTE, STORE, SQUARES = range(3)


def told_looks(names: Collection[str], told: Iterable[tuple[str, str]]) -> dict[str, str]:
    """``#rrggbb`` of each of these colours; those of which nothing is known are left out.

    ``told``: names and looks, what counts most first. Where nothing was told the name itself says
    how the colour looks.
    """
    first: dict[str, str] = {}
    for name, value in told:
        first.setdefault(name.casefold(), value)
    found = {name: first.get(name.casefold()) or yarn_colour(name) for name in names}
    return {name: value for name, value in found.items() if value}


def yarn_looks(blanket: Blanket) -> dict[str, str]:
    """Of every colour that a square of the blanket has: as ``told_looks``, in one query.

    What was chosen for the blanket counts first, then the first dye lot in the circle's store.
    """
    none = Value("", CharField())
    palette = Colour.objects.filter(blanket=blanket).annotate(part=Value(PALETTE), lot=none)
    store = Yarn.objects.filter(circle=blanket.drive.circle_id).annotate(part=Value(STORE))
    squares = Square.objects.filter(blanket=blanket).exclude(colour="")
    used = squares.annotate(part=Value(SQUARES), lot=none, look=none).distinct()
    rows = sorted(
        palette.order_by()
        .values_list("part", "name", "lot", "value")
        .union(
            store.order_by().values_list("part", "colour", "dye_lot", "value"),
            used.order_by().values_list("part", "colour", "lot", "look"),
        )
    )
    names = [name for part, name, _lot, _value in rows if part == SQUARES]
    return told_looks(names, ((name, value) for part, name, _lot, value in rows if part != SQUARES))


def looks_on(board: Board, looks: Mapping[str, str] | None = None) -> dict[Place, str]:
    """The look of each square's yarn, where anything is known of it.

    ``looks`` are those of its colours, read if not given: one query, none of a bare blanket.
    """
    if looks is None:
        looks = yarn_looks(board.blanket) if board.colours else {}
    return {place: looks[name] for place, name in board.colours.items() if name in looks}
