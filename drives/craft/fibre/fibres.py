"""What a yarn is made of: fibres in whole per cent, or not known. Never guessed."""

from collections.abc import Mapping
from enum import StrEnum


class Fibre(StrEnum):
    """A fibre; the values are stored, and codes of the API and of files."""

    WOOL = "wool"
    ALPACA = "alpaca"
    MOHAIR = "mohair"
    CASHMERE = "cashmere"
    SILK = "silk"
    COTTON = "cotton"
    LINEN = "linen"
    VISCOSE = "viscose"
    BAMBOO = "bamboo viscose"
    ACRYLIC = "acrylic"
    POLYAMIDE = "polyamide"
    POLYESTER = "polyester"
    ELASTANE = "elastane"
    OTHER = "other fibres"


Fibres = Mapping[Fibre, int]
"""Per cent by fibre, each at least 1, together 100. Where nobody knows them: None."""


def by_share(fibres: Fibres) -> list[tuple[Fibre, int]]:
    """The largest share first."""
    return sorted(fibres.items(), key=lambda item: (-item[1], item[0]))
