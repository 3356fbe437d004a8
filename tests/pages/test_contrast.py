"""The stylesheet's colours against WCAG 2.2."""

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles.finders import find

from tests.drawing.reading import contrast

WORDS, SHAPES = 4.5, 3.0  # success criteria 1.4.3 and 1.4.11


def colours() -> dict[str, str]:
    css = Path(str(find("mitrewise/site.css"))).read_text()
    return {"white": "#ffffff"} | dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", css))


def test_the_formula_gives_the_known_extremes() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("ground", ["paper", "sheet"])
@pytest.mark.parametrize("text", ["ink", "soft", "accent", "accent-deep", "wrong"])
def test_words_stand_out(text: str, ground: str) -> None:
    assert contrast(colours()[text], colours()[ground]) >= WORDS


@pytest.mark.parametrize("ground", ["accent", "accent-deep"])
def test_words_on_buttons_stand_out(ground: str) -> None:
    assert contrast(colours()["white"], colours()[ground]) >= WORDS


def test_words_on_disabled_buttons_stand_out() -> None:
    assert contrast(colours()["soft"], colours()["faint"]) >= WORDS


@pytest.mark.parametrize("ground", ["paper", "sheet"])
@pytest.mark.parametrize("shape", ["line", "accent", "wrong", "ring"])
def test_outlines_and_the_keyboards_ring_stand_out(shape: str, ground: str) -> None:
    assert contrast(colours()[shape], colours()[ground]) >= SHAPES
