"""The two Englishes: the few words of the trade that differ."""

from django.utils.translation import get_language

AMERICAN = {
    "mitre": "miter",
    "mitred": "mitered",
    "centred": "centered",
    "tension": "gauge",
    "cast off": "bind off",
    "casting off": "binding off",
    "double knitting": "light worsted",
    "colour": "color",
    "colours": "colors",
}
"""British term → American term."""


def term(british: str) -> str:
    """The word as the present reader says it; KeyError for one that both say alike."""
    american = AMERICAN[british.lower()]
    if get_language() != "en-us":
        return british
    return american.capitalize() if british[0].isupper() else american
