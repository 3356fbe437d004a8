"""What a printer without colour is given."""

import re

# An attribute of a drawing. Text never looks so: its quotes are escaped.
_COLOUR = re.compile(r'="#([0-9a-f]{6})"')
DARK = 0.45  # of the luminance of white: what is darker is printed as black


def in_black(html: str) -> str:
    """The drawings in ``html`` with dark colours as black and pale ones as the same grey.

    Printers screen a dark grey into dots, and thin lines and small figures with it.
    """
    return _COLOUR.sub(lambda found: f'="{_grey(found[1])}"', html)


def _grey(colour: str) -> str:
    red, green, blue = bytes.fromhex(colour)
    luminance = (0.2126 * red + 0.7152 * green + 0.0722 * blue) / 255
    shade = round(255 * luminance) if luminance > DARK else 0
    return f"#{shade:02x}{shade:02x}{shade:02x}"
