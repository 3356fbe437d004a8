"""The wall map: every square an empty box to be coloured in by hand. Lengths in mm."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Set
from html import escape

from drives.craft.layout.plan import Plan
from drives.craft.places import Place, letters

from .grid import FONT
from .lines import box, tail, zigzag
from .looks import INK, SOFT, Stroke, hatching, stroke
from .wall_view import MARK, PALE, STRIP, WIDTH, Scale, WallView, YarnSign, name_size


def wall_svg(
    plan: Plan,
    view: WallView,
    scale: Scale,
    *,
    title: str,
    glue: str,
    finished: Set[Place] = frozenset(),
    yarns: Mapping[Place, YarnSign] | None = None,
    prefix: str = "wall",
) -> str:
    """An ``<svg class="wall-map">`` of what ``view`` shows, with marks to cut along.

    Squares that are ``finished`` are hatched. ``glue`` stands on the strips.
    """
    return "".join(_Wall(plan, view, scale).drawn(title, glue, finished, yarns or {}, prefix))


class _Wall:
    """The bottom left corner of the blanket is the origin."""

    def __init__(self, plan: Plan, view: WallView, scale: Scale) -> None:
        self.plan, self.view, self.scale = plan, view, scale
        self.unit = scale.unit
        self.stroke = min(0.35, 0.06 * self.unit)
        left, below, right, above = view.beyond(scale.edge)
        self.x0, self.x1 = (view.first.column - 1) * self.unit, view.last.column * self.unit
        self.y0, self.y1 = -view.last.row * self.unit, -(view.first.row - 1) * self.unit
        self.window = (self.x0 - left, self.y0 - above, self.x1 + right, self.y1 + below)
        self.places = [place for place in plan.places if self._meets(place)]

    def drawn(
        self,
        title: str,
        glue: str,
        finished: Set[Place],
        yarns: Mapping[Place, YarnSign],
        prefix: str,
    ) -> Iterator[str]:
        left, top, right, bottom = self.window
        width, height = right - left + 2 * MARK, bottom - top + 2 * MARK
        yield (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="wall-map" role="img" '
            f'aria-labelledby="{prefix}-title" width="{width:.2f}mm" height="{height:.2f}mm" '
            f'viewBox="{left - MARK:.2f} {top - MARK:.2f} {width:.2f} {height:.2f}">'
            f'<title id="{prefix}-title">{escape(title)}</title><clipPath id="{prefix}-window">'
            f'<rect x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" '
            f'height="{bottom - top:.2f}"/></clipPath><g clip-path="url(#{prefix}-window)">'
        )
        yield from self._squares(finished, yarns)
        yield from self._missing()
        yield from self._tens()
        yield from self._seams()
        yield from self._strips(glue)
        yield "</g>"
        if self.scale.named:
            yield from self._names(yarns)
        yield from self._edges()
        yield from self._marks()
        yield "</svg>"

    def _squares(self, finished: Set[Place], yarns: Mapping[Place, YarnSign]) -> Iterator[str]:
        for size, places in sorted(self._by_size(self.places).items()):
            side = size * self.unit
            if self.scale.named:
                yield self._draw(stroke(PALE, self.stroke, tail([[(0, side), (side, 0)]])), places)
            done = [place for place in places if place in finished]
            lines = tail(hatching(side, max(self.unit / 6, 0.8), 0))
            yield self._draw(stroke(PALE, self.stroke * 1.2, lines), done)
            by_colour: dict[str, list[Place]] = {}
            for place in places:
                if place in yarns and yarns[place].colour:
                    by_colour.setdefault(yarns[place].colour, []).append(place)
            swatch = 0.26 * self.unit
            corner = f"m{side - swatch:g} {side - swatch:g}h{swatch:g}v{swatch:g}h{-swatch:g}z"
            for colour, alike in by_colour.items():
                framed = f'fill="{colour}" stroke="{SOFT}" stroke-width="{self.stroke / 2:g}"'
                yield self._draw(Stroke(framed, corner), alike)
            yield self._draw(stroke(INK, self.stroke, box(side, 0)), places)

    def _missing(self) -> Iterator[str]:
        unit, where = self.unit, [place for place in self.view.layout.missing if self._meets(place)]
        a, b = 0.38 * unit, 0.62 * unit
        cross = tail([[(a, a), (b, b)], [(b, a), (a, b)]])
        yield self._draw(stroke(SOFT, self.stroke, cross), sorted(where))

    def _tens(self) -> Iterator[str]:
        """Where names stand at the edges alone, every tenth line is bold, to count by."""
        layout, unit = self.view.layout, self.unit
        if self.scale.named:
            return
        width, height = layout.columns * unit, layout.rows * unit
        lines = [[(at * unit, 0.0), (at * unit, -height)] for at in range(0, layout.columns, 10)]
        lines += [[(0.0, -at * unit), (width, -at * unit)] for at in range(0, layout.rows, 10)]
        yield stroke(INK, 2.2 * self.stroke, tail(lines)).at(["0 0"])

    def _seams(self) -> Iterator[str]:
        unit, swing = self.unit, min(0.07 * self.unit, 1)
        for upright in (True, False):
            where = [
                f"{(second.column - 1) * unit:.2f} {-(second.row - (not upright)) * unit:.2f}"
                for first, second in sorted(self.view.layout.seams)
                if (first.row == second.row) == upright and self._meets(second)
            ]
            sewn = zigzag(unit, 6, swing, upright=upright)
            if where:
                yield stroke("#ffffff", 4 * self.stroke, sewn).at(where)
                yield stroke(INK, 2 * self.stroke, sewn, ' class="seam"').at(where)

    def _strips(self, glue: str) -> Iterator[str]:
        """What is covered by the next sheets is pale, and says so."""
        left, top, right, bottom = self.window
        view = self.view
        if not view.ends_right:
            middle = f"{self.x1 + STRIP / 2:.2f} {(self.y0 + self.y1) / 2:.2f}"
            yield self._strip(self.x1, top, right, bottom)
            yield self._glue(glue, f"translate({middle}) rotate(-90)")
        if not view.ends_above:
            middle = f"{(self.x0 + self.x1) / 2:.2f} {self.y0 - STRIP / 2:.2f}"
            yield self._strip(left, top, self.x1, self.y0)
            yield self._glue(glue, f"translate({middle})")

    def _strip(self, left: float, top: float, right: float, bottom: float) -> str:
        return (
            f'<rect x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" '
            f'height="{bottom - top:.2f}" fill="#ffffff" fill-opacity="0.62"/>'
        )

    def _glue(self, glue: str, where: str) -> str:
        long = len(glue) * 3.2 * WIDTH
        return (
            f'<g transform="{where}" font-size="3.2" fill="{INK}" {FONT} text-anchor="middle">'
            f'<rect x="{-long / 2:.2f}" y="-2.6" width="{long:.2f}" height="5.2" fill="#ffffff"/>'
            f'<text y="1.1">{escape(glue)}</text></g>'
        )

    def _names(self, yarns: Mapping[Place, YarnSign]) -> Iterator[str]:
        view, unit = self.view, self.unit
        yield f'<g {FONT} fill="{INK}">'
        for place in self.places:
            size = self.plan.size[place]
            if place.column not in view.columns or place.row + size - 1 not in view.rows:
                continue  # it stands on another sheet
            x, y = (place.column - 1) * unit, -(place.row + size - 1) * unit
            name = str(place)
            high = name_size(unit, len(name))
            yield self._text(name, x + 0.07 * unit, y + 0.05 * unit + high, high)
        yield f'</g><g {FONT} fill="{INK}" text-anchor="end">'
        for place in self.places:
            size = self.plan.size[place]
            if place not in yarns or not self._holds_end(place, size):
                continue
            x, y = (place.column - 1 + size) * unit, -(place.row - 1) * unit
            aside = 0.32 if yarns[place].colour else 0.08
            yield self._text(
                yarns[place].letter, x - aside * unit, y - 0.08 * unit, name_size(unit, 3) * 0.8
            )
        yield "</g>"

    def _holds_end(self, place: Place, size: int) -> bool:
        """Whether the bottom right corner of the square lies on this sheet."""
        return place.column + size - 1 in self.view.columns and place.row in self.view.rows

    def _edges(self) -> Iterator[str]:
        view, unit, high = self.view, self.unit, self.scale.letter
        yield f'<g {FONT} fill="{SOFT}" text-anchor="middle">'
        widest = len(letters(view.layout.columns)) * WIDTH * high * 1.3
        for column in _told(view.columns, widest / unit):
            x = (column - 0.5) * unit
            if view.first.row == 1:
                yield self._text(letters(column), x, self.y1 + 1.35 * high, high)
            if view.ends_above:
                yield self._text(letters(column), x, self.y0 - 0.5 * high, high)
        for row in _told(view.rows, 1.2 * high / unit):
            y = -(row - 0.5) * unit + 0.36 * high
            if view.first.column == 1:
                yield self._text(str(row), self.x0 - 0.95 * high, y, high)
            if view.ends_right:
                yield self._text(str(row), self.x1 + 0.95 * high, y, high)
        yield "</g>"

    def _marks(self) -> Iterator[str]:
        """At the corners, where one cuts, and where the next sheet comes to lie."""
        left, top, right, bottom = self.window
        view = self.view
        if view.whole:
            return
        across = [left, right if view.ends_right else self.x1]
        up = [top if view.ends_above else self.y0, bottom]
        lines = [[(x, edge), (x, edge + way)] for x in across for edge, way in self._outwards(1)]
        lines += [[(edge, y), (edge + way, y)] for y in up for edge, way in self._outwards(0)]
        yield stroke(INK, 0.3, tail(lines)).at(["0 0"])

    def _outwards(self, axis: int) -> list[tuple[float, float]]:
        low, high = self.window[axis], self.window[axis + 2]
        return [(low - 0.5, 0.5 - MARK), (high + 0.5, MARK - 0.5)]

    def _text(self, words: str, x: float, y: float, size: float) -> str:
        return f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}">{words}</text>'

    def _draw(self, drawn: Stroke, places: Collection[Place]) -> str:
        """The stroke in each of these squares, from its top left corner."""
        unit, size = self.unit, self.plan.size
        if not places:
            return ""
        return drawn.at(
            f"{(place.column - 1) * unit:.2f} {-(place.row - 1 + size.get(place, 1)) * unit:.2f}"
            for place in places
        )

    def _by_size(self, places: Iterable[Place]) -> dict[int, list[Place]]:
        found: dict[int, list[Place]] = {}
        for place in places:
            found.setdefault(self.plan.size[place], []).append(place)
        return found

    def _meets(self, place: Place) -> bool:
        left, top, right, bottom = self.window
        size, unit = self.plan.size.get(place, 1), self.unit
        return (
            (place.column - 1) * unit < right
            and (place.column - 1 + size) * unit > left
            and -(place.row - 1 + size) * unit < bottom
            and -(place.row - 1) * unit > top
        )


def _told(numbers: range, room: float) -> list[int]:
    """Those whose names find ``room`` (in units) beside each other: all, or every fifth, …"""
    step = next((step for step in (1, 5, 10, 20, 50) if step >= room), 50)
    return [number for number in numbers if number % step == 0 or number == 1]
