"""Reading a drawing back: its elements, and where its paths run."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

SVG = "{http://www.w3.org/2000/svg}"
TOKEN = re.compile(r"[A-Za-z]|-?\d+(?:\.\d+)?(?:e-?\d+)?")
PAINT = ("fill", "stroke")

Point = tuple[float, float]


def read(svg: str) -> Element:
    """The drawing's root; raises ParseError unless it is well-formed XML."""
    return ElementTree.fromstring(svg)


def all_of(root: Element, name: str, kind: str | None = None) -> list[Element]:
    """Every element called ``name``, of the class ``kind`` where one is given."""
    found = root.iter(SVG + name)
    return [one for one in found if kind is None or kind in one.get("class", "").split()]


def lines(path: Element) -> list[list[Point]]:
    """The points of each line of a path. An arc gives its end point only."""
    tokens = TOKEN.findall(path.get("d", ""))
    found: list[list[Point]] = []
    x = y = 0.0
    command = ""
    while tokens:
        if tokens[0].isalpha():
            command = tokens.pop(0)
        if command == "z":
            x, y = found[-1][0]
            continue
        if command in "Mm" or not found:
            found.append([])
        if command == "h":
            x += float(tokens.pop(0))
        elif command == "v":
            y += float(tokens.pop(0))
        else:
            if command == "a":
                del tokens[:5]
            across, down = float(tokens.pop(0)), float(tokens.pop(0))
            x, y = (across, down) if command in "ML" else (x + across, y + down)
        found[-1].append((x, y))
    return [line for line in found if len(line) > 1]


def points(root: Element) -> Iterator[Point]:
    """Every point that a path, a rectangle, a circle or an unmoved text of the drawing names."""
    for path in all_of(root, "path"):
        for line in lines(path):
            yield from line
    for rect in all_of(root, "rect"):
        x, y, width, height = (float(rect.attrib[name]) for name in ("x", "y", "width", "height"))
        yield from ((x, y), (x + width, y + height))
    for circle in all_of(root, "circle"):
        x, y, radius = (float(circle.attrib[name]) for name in ("cx", "cy", "r"))
        yield from ((x - radius, y - radius), (x + radius, y + radius))
    for text in all_of(root, "text"):
        if "x" in text.attrib:
            yield float(text.attrib["x"]), float(text.attrib["y"])


def outside(root: Element) -> list[Point]:
    """The points that lie outside the view."""
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    return [
        (x, y)
        for x, y in points(root)
        if not (left <= x <= left + width and top <= y <= top + height)
    ]


def colourless(elements: list[Element]) -> list[dict[str, str]]:
    """The attributes of drawn elements without any colour: what is left in a line drawing."""
    return [
        {
            name: "none" if value == "none" else "some" if name in PAINT else value
            for name, value in element.attrib.items()
        }
        for element in elements
    ]


def luminance(colour: str) -> float:
    """Relative luminance of ``#rrggbb``: WCAG 2.2, definition of relative luminance."""
    channels = (int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5))
    red, green, blue = (
        channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
        for channel in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours: WCAG 2.2, definition of contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)
