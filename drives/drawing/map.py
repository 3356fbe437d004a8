"""The map of a blanket: every square with its state, for the screen and for paper."""

from collections.abc import Callable, Iterable, Mapping, Set
from html import escape

from drives.craft.layout import Layout
from drives.craft.places import Place, letters
from drives.craft.plan import Plan
from drives.craft.states import State

from .looks import INK, SHEET, SOFT, UNIT, WRONG, Look, Stroke, box, look, strokes, tail

MARGIN = 38  # for the letters and the numbers along the edges
EDGE = 6  # room on the other two sides
MOST = 60  # columns, or rows, up to which every square is a link and bears its name
FITS = 8  # columns that a narrow screen still shows at a size that fingers can press
FONT = 'font-family="Atkinson Hyperlegible, Verdana, sans-serif" font-weight="700"'

LATE = (
    Stroke(
        f'fill="#ffffff" stroke="{WRONG}" stroke-width="3" stroke-linejoin="round"',
        "m-18-29l13 23h-26z",
    ),
    Stroke(f'fill="none" stroke="{WRONG}" stroke-width="3.4"', "m-18-21v7m0 2v3.4"),
)


def map_svg(
    plan: Plan,
    state_of: Mapping[Place, State],
    *,
    title: str,
    link: Callable[[Place], str] | None = None,
    label: Callable[[Place], str] | None = None,
    late: Set[Place] = frozenset(),
    mine: Set[Place] = frozenset(),
    colours: Mapping[Place, str] | None = None,
    paper: bool = False,
    prefix: str = "map",
) -> str:
    """An ``<svg>`` of the blanket, A1 at the bottom left.

    ``state_of`` holds every place of the plan. ``title`` names the map, plain text like all
    words given here. With ``link`` each square is an ``<a class="square">`` with its accessible
    name from ``label`` (default: ``describe``), in the recommended order of work; on blankets
    of more than 60 columns or rows only the squares that are ready, taken or ``mine`` are.
    ``colours`` are yarn colours in words. ``prefix`` begins every id, so that two maps can
    stand on one page.
    """
    if label is None:

        def label(place: Place) -> str:
            return describe(plan, place, state_of[place])

    colours = colours or {}
    layout, size = plan.layout, plan.size
    large = max(layout.columns, layout.rows) > MOST
    bottom = EDGE + layout.rows * UNIT
    corners: dict[Look, list[str]] = {}
    texts: list[str] = []
    plates: dict[int, list[str]] = {}
    signs: list[str] = []
    frames: list[str] = []
    for place in plan.places:
        state, units = state_of[place], size[place]
        side = units * UNIT
        x = MARGIN + (place.column - 1) * UNIT
        y = bottom - (place.row - 1) * UNIT - side
        key = look(state, units, colours.get(place, ""), paper=paper)
        corners.setdefault(key, []).append(f"{x} {y}")
        if place in late:
            signs.append(f"{x + side} {y + side}")
        if place in mine:
            frames.append(f"{x} {y}{box(side, 7)}")
        if large and state in (State.WAITING, State.FINISHED) and place not in mine:
            continue
        name = str(place)
        plates.setdefault(len(name), []).append(f"{x} {y}")
        text = f'<text x="{x + 7}" y="{y + 24}"{_small(name)}>{name}</text>'
        if link is not None:
            text = (
                f'<a id="{prefix}-{name}" class="square {state}" href="{escape(link(place))}" '
                f'aria-label="{escape(label(place))}">'
                f'<rect x="{x}" y="{y}" width="{side}" height="{side}"/>{text}</a>'
            )
        texts.append(text)

    parts = [_opening(layout, title, links=link is not None, prefix=prefix)]
    parts.append(_missing(layout))
    for key, where in corners.items():
        parts += [stroke.at(where) for stroke in strokes(key)]
    if frames:
        parts.append(
            f'<path fill="none" stroke="#ffffff" stroke-width="9" d="M{"M".join(frames)}"/>'
            f'<path fill="none" stroke="{INK}" stroke-width="4" d="M{"M".join(frames)}"/>'
        )
    parts.append(seams(layout))
    if signs:
        parts += [stroke.at(signs) for stroke in LATE]
    for length, where in plates.items():
        parts.append(Stroke(f'fill="{SHEET}"', _plate(length)).at(where))
    parts.append(f'<g {FONT} font-size="22" fill="{INK}">')
    if link is not None:
        texts = [
            text.replace("<rect ", '<rect fill="none" pointer-events="all" ') for text in texts
        ]
    parts += texts
    parts += [_edges(layout), "</g></svg>"]
    return "".join(parts)


def describe(plan: Plan, place: Place, state: State) -> str:
    """A square in words: ``C4, ready, joins onto B4 and C3``."""
    supports = [str(support) for support in plan.stands_on[place]]
    if not supports:
        return f"{place}, {state}, joins onto nothing"
    *most, last = supports
    joined = f"{', '.join(most)} and {last}" if most else last
    return f"{place}, {state}, joins onto {joined}"


def seams(layout: Layout) -> str:
    """The seams as zigzags, as a seam is sewn."""
    if not layout.seams:
        return ""
    bottom = EDGE + layout.rows * UNIT
    upright, level = [], []
    for first, second in layout.seams:
        x = MARGIN + (second.column - 1) * UNIT
        if first.row == second.row:
            upright.append(f"{x} {bottom - second.row * UNIT}")
        else:
            level.append(f"{x} {bottom - first.row * UNIT}")
    parts = []
    for where, turned in ((upright, True), (level, False)):
        if where:
            points: list[tuple[float, float]] = [
                (0 if step in (0, 12) else 5 if step % 2 else -5, step * UNIT / 12)
                for step in range(13)
            ]
            if not turned:
                points = [(along, across) for across, along in points]
            line = tail([points])
            for colour, width in ((SHEET, 8), (INK, 3.2)):
                parts.append(
                    Stroke(
                        f'fill="none" stroke="{colour}" stroke-width="{width}" '
                        'stroke-linejoin="round" stroke-linecap="round"',
                        line,
                    ).at(where)
                )
    return "".join(parts)


def _opening(layout: Layout, title: str, *, links: bool, prefix: str) -> str:
    width = MARGIN + layout.columns * UNIT + EDGE
    height = EDGE + layout.rows * UNIT + MARGIN
    pixels = min(max(680 // layout.columns, 44), 96)  # one unit's side on a screen with room
    scale = pixels / UNIT
    kind = "map" if layout.columns <= FITS else "map map-wide"
    role = "group" if links else "img"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{kind}" role="{role}" '
        f'aria-labelledby="{prefix}-title" width="{width * scale:.0f}" '
        f'height="{height * scale:.0f}" viewBox="0 0 {width} {height}">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
    )


def _missing(layout: Layout) -> str:
    if not layout.missing:
        return ""
    bottom = EDGE + layout.rows * UNIT
    where = [
        f"{MARGIN + (column - 1) * UNIT} {bottom - row * UNIT}" for column, row in layout.missing
    ]
    return Stroke(f'fill="none" stroke="{SOFT}" stroke-width="2"', "m24 24l12 12m0-12l-12 12").at(
        sorted(where)
    )


def _edges(layout: Layout) -> str:
    bottom = EDGE + layout.rows * UNIT
    along: Iterable[str] = (
        f'<text x="{MARGIN + (column - 0.5) * UNIT:g}" y="{bottom + 26}">{letters(column)}</text>'
        for column in range(1, layout.columns + 1)
    )
    up: Iterable[str] = (
        f'<text x="{MARGIN / 2:g}" y="{bottom - (row - 0.5) * UNIT + 7:g}">{row}</text>'
        for row in range(1, layout.rows + 1)
    )
    return (
        f'<g fill="{SOFT}" font-size="19" text-anchor="middle" aria-hidden="true">'
        f"{''.join(along)}{''.join(up)}</g>"
    )


def _small(name: str) -> str:
    return ' font-size="16"' if len(name) > 3 else ""


def _plate(length: int) -> str:
    width = 6 + length * (13 if length <= 3 else 10)
    return f"m4 5h{width}v24h-{width}z"
