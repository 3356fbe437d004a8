"""Yarn colours in knitters' words as colours of the screen."""

UNNAMED = "#808080"  # grey: how a colour is drawn of which nothing is known
YARNS = {
    "apricot": "#f0a868",
    "aqua": "#5fb3b3",
    "beige": "#d8c4a0",
    "berry": "#8c2f55",
    "black": "#2b2a29",
    "blue": "#3a6ea5",
    "brown": "#7a5136",
    "burgundy": "#6e1f33",
    "camel": "#bf9361",
    "charcoal": "#46474a",
    "copper": "#b06a3b",
    "coral": "#e8735c",
    "cream": "#f4e9cf",
    "denim": "#4c6a8c",
    "gold": "#d3a129",
    "gray": "#8c8c8a",
    "green": "#4f8a4c",
    "grey": "#8c8c8a",
    "heather": "#94809f",
    "indigo": "#3d3f77",
    "ivory": "#f6efdd",
    "jade": "#3f9479",
    "lavender": "#a99bc9",
    "lemon": "#f0dc6a",
    "lilac": "#bca3cf",
    "lime": "#a5c04a",
    "maroon": "#6b2530",
    "mauve": "#a77b95",
    "mint": "#a3d3b8",
    "moss": "#6f7f3f",
    "mustard": "#c99a2e",
    "navy": "#26375c",
    "oatmeal": "#d9cbb2",
    "olive": "#77773a",
    "orange": "#dd7f2f",
    "peach": "#f4bd97",
    "petrol": "#1f5c6b",
    "pink": "#de8fa5",
    "plum": "#6c3c5f",
    "purple": "#6f4a8e",
    "red": "#b3322f",
    "rose": "#cf6f83",
    "ruby": "#94203c",
    "rust": "#a9502b",
    "sage": "#93a98a",
    "sand": "#d6be95",
    "silver": "#c1c3c4",
    "sky": "#8fbcdc",
    "slate": "#5a6673",
    "tan": "#c19a6b",
    "teal": "#23757a",
    "turquoise": "#3fa9ab",
    "violet": "#7d5ba6",
    "white": "#fbfaf6",
    "wine": "#6f2237",
    "yellow": "#ecc846",
}


def yarn_colour(words: str) -> str | None:
    """The colour that ``words`` name, as ``#rrggbb``; None where none of them is known.

    The last known word counts, for it is the noun: "sea green", "dusty pink".

    >>> yarn_colour("Dusty pink"), yarn_colour("variegated")
    ('#de8fa5', None)
    """
    for word in reversed(words.lower().replace("-", " ").split()):
        if word in YARNS:
            return YARNS[word]
    return None


def mix(colour: str, other: str, share: float) -> str:
    """``colour`` with ``share`` (0 to 1) of ``other`` in it; both ``#rrggbb``."""
    pairs = zip(_channels(colour), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def line_on(ground: str, ink: str) -> str:
    """The softest line that still stands out from ``ground``: 3 : 1, WCAG 2.2, 1.4.11.

    Paler than the ground or mixed with ``ink``, whichever can stand out more.
    """
    end = max("#ffffff", ink, key=lambda colour: contrast(colour, ground))
    lines = (mix(ground, end, share / 20) for share in range(9, 20))
    return next((line for line in lines if contrast(line, ground) >= 3), end)


def contrast(one: str, other: str) -> float:
    """The ratio of two colours by WCAG 2.2, from 1 to 21."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (channel / 255 for channel in _channels(colour))
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _channels(colour: str) -> list[int]:
    return [int(colour[start : start + 2], 16) for start in (1, 3, 5)]


def look(name: str) -> str:
    """How a colour is drawn of which no more is known than what it is called."""
    return yarn_colour(name) or UNNAMED
