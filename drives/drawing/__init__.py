"""Blankets and squares as SVG, for screens and paper alike: plain strings, no scripts, no styles.

Everything is drawn from ``drives.craft`` and from what is given; nothing here reads a row.
"""

from .map import describe, map_svg

__all__ = ["describe", "map_svg"]
