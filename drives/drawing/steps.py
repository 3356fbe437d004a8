"""The steps of a foundation in the square's diagram: edges, stitches, ways, numbers, words."""

from collections.abc import Sequence
from html import escape

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do

from .lines import Point, tail
from .looks import ACCENT, INK, SHEET, stroke
from .runs import StepRun
from .sides import FOOT, GAP, INSET, SIDE, STRIP, SideStretch, X, side_stretches

CLEAR = INSET + 16  # from the corner to where a step's own way begins
CROWDED = 48  # a unit too short for a number and an arrow of its own
LETTER = 0.57  # the mean width of a letter, in ems


def edge(run: StepRun, unit: float) -> str:
    """Cast-on edges dashed; joins heavy, on the neighbour's edge, with a tick for each stitch."""
    parts = list(side_stretches(run, unit))
    if run.step.do is Do.CAST_ON:
        edges = tail([part.at(part.start), part.at(part.end)] for part in parts)
        return stroke(INK, 3.6, edges, ' class="cast-on" stroke-dasharray="7 5"').at(["0 0"])
    drawn = []
    for part in parts:
        heavy = tail([[part.at(part.start, GAP), part.at(part.end, GAP)]])
        drawn.append(stroke(INK, 5, heavy, ' class="join"').at(["0 0"]))
        each = part.room / run.step.stitches
        if each >= 2.4:
            places = [part.start + (stitch + 0.5) * each for stitch in range(run.step.stitches)]
            ticks = tail([part.at(at, GAP), part.at(at)] for at in places)
            drawn.append(stroke(ACCENT, 1.3, ticks, ' class="stitches"').at(["0 0"]))
    return "".join(drawn)


def ways(found: Sequence[StepRun], unit: float, hand: Hand) -> str:
    """Arrows inside the square in the order of work: one a step, or one for all where crowded."""
    if unit < CROWDED:
        bottom, left = SideStretch(False, 0, SIDE), SideStretch(True, SIDE, 2 * SIDE)
        return _arrow([bottom.clear(INSET), left.clear(INSET)], hand)
    drawn = []
    for run in found:
        parts = list(side_stretches(run, unit))
        nearest = INSET if len(parts) == 2 else CLEAR
        drawn.append(_arrow([part.clear(nearest) for part in parts], hand))
    return "".join(drawn)


def number(run: StepRun, unit: float, hand: Hand) -> str:
    """The number of the step: on its way, or beside its words where crowded."""
    radius = 11.0
    if unit < CROWDED:
        radius = min(radius, unit * 0.45)
    x, y = _where(run, unit, hand)
    return (
        f'<circle class="step" cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="{ACCENT}"/>'
        f'<text x="{x:g}" y="{y + radius * 0.45:g}" font-size="{radius * 1.3:g}" '
        f'fill="#ffffff">{run.number}</text>'
    )


def label(
    run: StepRun, unit: float, hand: Hand, verb: str, counted: str, besides: Sequence[str]
) -> str:
    """What to do and how many, beside the edge; fewer words where there is less room.

    ``counted``: the ``verb`` with its count. ``besides``: what else is said of a neighbour.
    """
    if run.step.do is Do.CORNER:
        return ""  # its words stand at the corner
    part = _first(run, unit, hand)
    crowded = unit < CROWDED
    count, onto = str(run.step.stitches), run.step.onto
    wide = part.upright or part.room >= 92
    if wide and part.room >= 44:
        lines = [counted] if onto is None else [str(onto), counted]
        if onto and part.room >= 62:
            lines += besides
    elif part.upright:
        lines = [f"{onto}: {count}" if onto else counted]
    else:
        lines = [*([str(onto)] if onto else []), *([verb] if part.room >= CROWDED else []), count]
    aside = 24 if crowded else 0
    if part.upright:
        room, x = STRIP - aside, 6 + (STRIP - aside) / 2
        return words(x, part.at(part.middle)[1] - 9 * len(lines), lines, room, plate=bool(onto))
    x, y = part.at(part.middle, GAP + 10 + aside)
    return words(x, y, lines, part.room, plate=bool(onto))


def words(x: float, top: float, lines: Sequence[str], room: float, *, plate: bool) -> str:
    """Lines of text below ``top``, centred on ``x``, no wider than ``room``."""
    longest = max(len(text) for text in lines)
    size = max(min(16.0, (room - 6) / (longest * LETTER)), 9.0)
    width = min(longest * size * LETTER + 8, room)
    step = size + 2
    ground = (
        f'<rect x="{x - width / 2:g}" y="{top:g}" width="{width:g}" '
        f'height="{step * len(lines) + 3:g}" fill="{SHEET}"/>'
    )
    texts = (
        f'<text x="{x:g}" y="{top + step * number - 2:g}" font-size="{size:g}">{text}</text>'
        for number, text in enumerate(map(escape, lines), 1)
    )
    return (ground if plate else "") + "".join(texts)


def _where(run: StepRun, unit: float, hand: Hand) -> Point:
    if run.step.do is Do.CORNER:
        return X + INSET, FOOT - INSET
    part = _first(run, unit, hand)
    if unit < CROWDED:
        return part.at(part.middle, GAP + 14)
    part = part.clear(CLEAR)
    return part.at(part.middle, -INSET)


def _first(run: StepRun, unit: float, hand: Hand) -> SideStretch:
    """The part of ``run`` that is worked first."""
    parts = list(side_stretches(run, unit))
    return parts[-1 if hand is Hand.LEFT else 0]


def _arrow(parts: Sequence[SideStretch], hand: Hand) -> str:
    points: list[Point] = []
    for part in parts:
        start, end = part.start, part.end
        if end - start >= 28:
            points += [part.at(start + 8, -INSET), part.at(end - 8, -INSET)]
    if not points:
        return ""
    if hand is Hand.LEFT:
        points.reverse()
    (from_x, from_y), (x, y) = points[-2:]
    length = abs(x - from_x) + abs(y - from_y)  # ways run level or upright
    across, down = (x - from_x) / length * 9, (y - from_y) / length * 9
    head = [
        (x - across + down / 2, y - down + across / 2),
        (x, y),
        (x - across - down / 2, y - down - across / 2),
    ]
    rounded = ' class="way" stroke-linejoin="round" stroke-linecap="round"'
    return stroke(ACCENT, 2.6, tail([points, head]), rounded).at(["0 0"])
