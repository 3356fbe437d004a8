"""The diagram of one square: what it joins onto, how many stitches, and in which order."""

from collections.abc import Mapping, Sequence
from html import escape
from itertools import pairwise

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Edge
from drives.craft.layout.layout import Seam
from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place

from .colours import line_on, mix
from .grid import FONT
from .lines import clipped, tail, zigzag
from .looks import INK, PALE, SHEET, ridges, stroke
from .runs import StepRun, step_runs
from .sides import FOOT, GAP, SIDE, STRIP, TOP, X
from .steps import edge, label, number, ways, words

WIDTH, HEIGHT = X + SIDE + 26, FOOT + 84
KNITTED, RIDGE = "#e3eaea", "#7f9a9e"
WASHED = 0.55  # the share of white in a yarn that lies behind words and lines


def square_svg(
    plan: Plan,
    place: Place,
    hand: Hand,
    *,
    state_of: Mapping[Place, State],
    title: str,
    description: str,
    labels: Sequence[tuple[str, str, str]],
    marker: Sequence[str],
    stitches: str,
    unfinished: str,
    later: str,
    looks: Mapping[Place, str] = {},
    prefix: str = "square",
) -> str:
    """An ``<svg class="diagram">`` of the square at ``place`` and the squares it joins onto.

    Steps are numbered and arrows run in the order of work for ``hand``. ``state_of`` holds at
    least the squares that ``place`` stands on. All words are given, plain text: ``labels`` for
    each step in the order of work (what to do, the same with the count, which ridges or none), the
    lines at the ``marker``, how many ``stitches`` it has, what is said of a neighbour that is
    ``unfinished``, and of the edges that ``later`` squares join. ``looks``: how the yarn of each
    square looks, as ``#rrggbb``, where that is known. ``prefix`` begins every id.
    """
    found = step_runs(plan, place, hand)
    unit = SIDE / plan.size[place]
    parts = [_opening(title, description, prefix)]
    parts += [
        _neighbour(plan, place, run, unit, state_of[run.step.onto], looks.get(run.step.onto))
        for run in found
        if run.step.onto is not None
    ]
    parts += [_square(), _seams(plan, place, unit), ways(found, unit, hand)]
    parts += [edge(run, unit) for run in found]
    parts.append(f'<g {FONT} fill="{INK}" font-size="16" text-anchor="middle">')
    for run in found:
        onto = run.step.onto
        state = state_of[onto] if onto else None
        verb, counted, with_ridges = labels[run.number - 1]
        said = [with_ridges, "" if state is State.FINISHED else unfinished]
        text = label(run, unit, hand, verb, counted, [line for line in said if line])
        parts += [text, number(run, unit, hand)]
    parts += [_marker(marker), _middle(place, stitches, later), "</g></svg>"]
    return "".join(parts)


def _opening(title: str, description: str, prefix: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="diagram" role="img" '
        f'aria-labelledby="{prefix}-title" aria-describedby="{prefix}-desc" '
        f'width="{WIDTH * 3 // 2}" height="{HEIGHT * 3 // 2}" viewBox="0 0 {WIDTH} {HEIGHT}">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-desc">{escape(description)}</desc>'
    )


def _square() -> str:
    """The square to be knitted: its mitre, and a few of its rows."""
    rows = stroke("#ddd2be", 1.6, tail(ridges(SIDE, SIDE / 5)))
    mitre = stroke(INK, 2.2, tail([[(0, SIDE), (SIDE, 0)]]))
    offered = stroke(INK, 1.8, tail([[(0, 0), (SIDE, 0), (SIDE, SIDE)]]))
    ground = f'<rect x="{X}" y="{TOP}" width="{SIDE}" height="{SIDE}" fill="{SHEET}"/>'
    return ground + "".join(stroke.at([f"{X} {TOP}"]) for stroke in (rows, mitre, offered))


def _neighbour(
    plan: Plan, place: Place, run: StepRun, unit: float, state: State, look: str | None
) -> str:
    """What can be seen of the square that ``run`` is picked up on; knitted only if finished.

    Its yarn is drawn paler than it is, so that what is told of the joins stands out from it.
    """
    other = run.step.onto
    assert other is not None
    side = plan.size[other] * unit
    x = X + (other.column - place.column) * unit
    y = FOOT - (other.row - place.row) * unit - side
    if run.step.edge is Edge.TOP:
        y += GAP
        seen = (float(X), float(FOOT + GAP), X + SIDE + 16.0, HEIGHT - 4.0)
    else:
        x -= GAP
        seen = (4.0, TOP - 16.0, float(X - GAP), float(FOOT))
    left, top = max(x, seen[0]), max(y, seen[1])
    right, bottom = min(x + side, seen[2]), min(y + side, seen[3])
    knitted = mix(look, "#ffffff", WASHED) if look else KNITTED
    ground = knitted if state is State.FINISHED else PALE
    rect = (
        f'<rect class="neighbour" x="{left:g}" y="{top:g}" width="{right - left:g}" '
        f'height="{bottom - top:g}" fill="{ground}"/>'
    )
    if state is not State.FINISHED:
        return rect
    ridge = unit / plan.layout.stitches
    drawn = [*ridges(side, ridge * max(1, round(5 / ridge))), [(0.0, side), (side, 0.0)]]
    moved = ([(x + across, y + down) for across, down in bent] for bent in drawn)
    straight = (pair for bent in moved for pair in pairwise(bent))
    shown = (clipped(*pair, (left, top, right, bottom)) for pair in straight)
    line = line_on(knitted, INK) if look else RIDGE
    return rect + stroke(line, 1.6, tail(shown)).at(["0 0"])


def _seams(plan: Plan, place: Place, unit: float) -> str:
    """A zigzag where a neighbour lies that is sewn on at the end."""
    upright, level = [], []
    for along in range(plan.size[place]):
        row, column = place.row + along, place.column + along
        if Seam(Place(place.column - 1, row), Place(place.column, row)) in plan.layout.seams:
            upright.append(f"{X - GAP} {FOOT - (along + 1) * unit:g}")
        if Seam(Place(column, place.row - 1), Place(column, place.row)) in plan.layout.seams:
            level.append(f"{X + along * unit:g} {FOOT + GAP}")
    teeth = max(2, round(unit / 12))
    return "".join(
        stroke(INK, 2.4, zigzag(unit, teeth, 4, upright=direction), ' class="seam"').at(where)
        for where, direction in ((upright, True), (level, False))
        if where
    )


def _marker(lines: Sequence[str]) -> str:
    """The marker in the corner, and what is said of it."""
    leader = f"M{X} {FOOT}L{X - 26} {FOOT + 26}"
    return (
        f'<path fill="none" stroke="{INK}" stroke-width="1.4" d="{leader}"/>'
        f'<circle class="marker" cx="{X}" cy="{FOOT}" r="8" fill="#ffffff" stroke="{INK}" '
        'stroke-width="4"/>' + words(54, FOOT + 28, lines, STRIP + 10, plate=False)
    )


def _middle(place: Place, stitches: str, later: str) -> str:
    """The square's name and its stitches, and what its other two edges are."""
    x, y = X + SIDE * 0.66, FOOT - SIDE * 0.4
    right = f"translate({X + SIDE + 9} {TOP + SIDE / 2:g}) rotate(90)"
    return (
        f'<text x="{x:g}" y="{y:g}" font-size="32">{place}</text>'
        f'<text x="{x:g}" y="{y + 22:g}">{escape(stitches)}</text>'
        '<g font-size="14" font-weight="400">'
        f'<text x="{X + SIDE / 2:g}" y="{TOP - 8}">{escape(later)}</text>'
        f'<text transform="{right}">{escape(later)}</text></g>'
    )
