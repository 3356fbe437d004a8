"""The map as a file of its own: it needs no page around it, and its words are drawn."""

import re
from xml.etree import ElementTree

import cv2
import numpy as np
import pytest

from drives.craft.layout.layout import Layout
from drives.exports import picture
from drives.exports.picture import map_file, png
from drives.readings.board import board_of
from tests.cast import Cast
from tests.desk import NOW, Desk, new_blanket

SVG = "{http://www.w3.org/2000/svg}"


def svg_of(desk: Desk, *, in_colour: bool = True) -> str:
    return map_file(board_of(desk.blanket), NOW, in_colour=in_colour)


def pixels(svg: str) -> np.ndarray:
    """Rows × columns × blue, green, red."""
    image = cv2.imdecode(np.frombuffer(png(svg), np.uint8), cv2.IMREAD_COLOR)
    assert image is not None
    return image


def test_the_drawing_stands_alone(desk: Desk, cast: Cast) -> None:
    desk.blanket.name = 'Waves & <seas> "\x0b'
    desk.knit("A1", cast.vera)
    root = ElementTree.fromstring(svg_of(desk))
    assert root.tag == f"{SVG}svg"
    assert root.findtext(f"{SVG}title") == 'Map of Waves & <seas> "'
    words = {text.text for text in root.iter(f"{SVG}text")}
    assert {"A", "B", "1", "2", "A1", "B2"} <= words
    # What would need the site's styles, scripts or addresses is not there.
    assert not list(root.iter(f"{SVG}a"))
    assert all(
        "font-family" in group.attrib
        for group in root.iter(f"{SVG}g")
        if group.findall(f"{SVG}text")
    )
    paths = list(root.iter(f"{SVG}path"))
    assert paths
    assert all("fill" in path.attrib for path in paths)


def test_it_is_in_the_yarns_or_in_black(desk: Desk, cast: Cast) -> None:
    desk.blanket.squares.update(colour="red")
    desk.knit("A1", cast.vera)
    assert "#b3322f" in svg_of(desk)
    black = svg_of(desk, in_colour=False)
    for colour in set(re.findall("#[0-9a-f]{6}", black)):
        red, _green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
        assert abs(red - blue) < 20


def test_the_picture_has_its_words(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    svg = svg_of(desk)
    drawn, wordless = pixels(svg), pixels(re.sub("<text.*?</text>", "", svg))
    assert drawn.shape == wordless.shape
    differs = (drawn != wordless).any(axis=2)
    height, width = differs.shape
    assert differs[:, : width // 6].any()  # the numbers on the left
    assert differs[-height // 6 :].any()  # the letters below
    assert differs[height // 2 : -height // 4, width // 4 : width // 2].any()  # A1


def test_the_picture_is_sharp_and_bounded(
    desk: Desk, cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    small = svg_of(desk)
    wide = svg_of(Desk(new_blanket(cast.olga, Layout(150, 1, 20))))
    named = re.search(r'width="(\d+)"', small)
    assert named
    assert pixels(small).shape[1] == 2 * int(named[1])
    assert pixels(wide).shape[1] == picture.MOST_PIXELS
    tall = svg_of(Desk(new_blanket(cast.olga, Layout(1, 150, 20))))
    assert pixels(tall).shape[0] <= picture.MOST_PIXELS
