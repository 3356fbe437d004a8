"""What a yarn is made of: fibres in whole per cent, or not known. Never guessed.

The names are generic ones, never those of a maker: of Regulation (EU) No 1007/2011, Annex I, and of
the Federal Trade Commission’s rules, 16 CFR 303.7 (rayon and lyocell: d; rubber: j).
"""

from collections.abc import Mapping
from enum import StrEnum


class Fibre(StrEnum):
    """A fibre; the values are stored, and codes of the API and of files."""

    WOOL = "wool"
    ALPACA = "alpaca"
    MOHAIR = "mohair"
    CASHMERE = "cashmere"
    ANGORA = "angora"
    LLAMA = "llama"
    CAMEL = "camel"
    YAK = "yak"
    SILK = "silk"
    COTTON = "cotton"
    LINEN = "linen"
    HEMP = "hemp"
    VISCOSE = "viscose"
    BAMBOO = "bamboo viscose"
    MODAL = "modal"
    LYOCELL = "lyocell"
    ACRYLIC = "acrylic"
    POLYAMIDE = "polyamide"
    POLYESTER = "polyester"
    ELASTANE = "elastane"
    RUBBER = "rubber"
    """Elastodiene: the threads of latex, to which some people are allergic."""
    OTHER = "other fibres"


# Annex I, numbers 2, and 1, 2 and 4.
HAIR = frozenset(
    {
        *(Fibre.ALPACA, Fibre.MOHAIR, Fibre.CASHMERE, Fibre.ANGORA),
        *(Fibre.LLAMA, Fibre.CAMEL, Fibre.YAK),
    }
)
ANIMAL = HAIR | {Fibre.WOOL, Fibre.SILK}

Fibres = Mapping[Fibre, int]
"""Per cent by fibre, each at least 1, together 100. Where nobody knows them: None."""


def by_share(fibres: Fibres) -> list[tuple[Fibre, int]]:
    """The largest share first."""
    return sorted(fibres.items(), key=lambda item: (-item[1], item[0]))
