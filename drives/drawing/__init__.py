"""Blankets and squares as SVG, for screens and paper alike: plain strings, no scripts, no styles.

Everything is drawn from ``drives.craft`` and from what is given; nothing here reads a row.
"""

from .cut import cut_svg
from .forecast import forecast_svg
from .legend import Sign, legend
from .map import map_svg
from .planner import planner_svg
from .portrait import portrait_svg
from .square import square_svg
from .wall import wall_svg

__all__ = [
    "Sign",
    "cut_svg",
    "forecast_svg",
    "legend",
    "map_svg",
    "planner_svg",
    "portrait_svg",
    "square_svg",
    "wall_svg",
]
