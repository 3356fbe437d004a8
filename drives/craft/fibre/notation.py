"""Fibres and care as codes in one line of text, for rows and for files; no reader's language.

Fibres: ``80 % acrylic, 20 % wool``, by their values. Care: one code for each treatment that was
told, in the order of the standard: ``wash-40-mild bleach-no tumble-low air-flat iron-medium``.
"""

from .care import TREATMENTS, Care
from .fibres import Fibres, by_share
from .treatments import Treatment

_PREFIXES = {
    "wash": "wash",
    "bleach": "bleach",
    "tumble": "tumble",
    "natural": "air",
    "iron": "iron",
    "dry_clean": "dryclean",
    "wet_clean": "wetclean",
}


def fibres_code(fibres: Fibres | None) -> str:
    """Empty where nobody knows them. ``words.fibres.read`` reads it in every language."""
    return ", ".join(f"{share} % {fibre}" for fibre, share in by_share(fibres or {}))


def care_code(care: Care) -> str:
    """Empty where nothing is told."""
    told = zip(TREATMENTS, care, strict=True)
    return " ".join(_code(kind, value) for kind, value in told if value is not None)


def _code(kind: str, treatment: Treatment) -> str:
    """``wash-30-mild`` for a machine at 30 °C on a mild cycle, ``iron-no`` for what it may not."""
    words = treatment.name.lower().split("_")
    words = ["no" if word == "not" else word for word in words if word != "machine"]
    return "-".join((_PREFIXES[kind], *words))


CARE_CODES = {
    _code(kind, each): (kind, each) for kind, values in TREATMENTS.items() for each in values
}
"""Every code, with the treatment's kind (a field of ``Care``) and value."""
