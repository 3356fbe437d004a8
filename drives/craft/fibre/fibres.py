"""What a yarn is made of: fibres in whole per cent, or not known. Never guessed."""

import re
from collections.abc import Mapping
from enum import StrEnum

from drives.craft.knitter import English


class Fibre(StrEnum):
    """A fibre, by its British name."""

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

AMERICAN = {
    Fibre.VISCOSE: "rayon",
    Fibre.BAMBOO: "bamboo rayon",
    Fibre.POLYAMIDE: "nylon",
    Fibre.ELASTANE: "spandex",
}
UNKNOWN = "fibres not known"
_KNOWN = (
    {fibre.value: fibre for fibre in Fibre}
    | {name: fibre for fibre, name in AMERICAN.items()}
    # Merino is wool: who refuses wool refuses it.
    | {"merino": Fibre.WOOL, "lambswool": Fibre.WOOL, "flax": Fibre.LINEN}
    | {"bamboo": Fibre.BAMBOO, "other": Fibre.OTHER, "other fibers": Fibre.OTHER}
)
# Words that may stand before a fibre and change nothing of what it is.
_MERE = {"baby", "extra", "fine", "merino", "new", "organic", "pure", "recycled"}
_MERE |= {"superfine", "superwash", "virgin"}
_SHARE_FIRST = re.compile(r"(?P<share>\d+) ?% ?(?P<name>[^\d%,;/+&]+)")
_NAME_FIRST = re.compile(r"(?P<name>[^\d%,;/+&]+?) ?(?P<share>\d+) ?%")
_EXAMPLE = "write them in whole per cent, like “80 % acrylic, 20 % wool”"


def parse(text: str) -> Fibres | None:
    """Read fibres as a yarn's band tells them; nothing, or “unknown”, is None.

    Raises ValueError, with a sentence, where a part cannot be read or the sum is not 100.

    >>> parse("80% superwash wool, 20% nylon")
    {<Fibre.WOOL: 'wool'>: 80, <Fibre.POLYAMIDE: 'polyamide'>: 20}
    """
    plain = re.sub(r"\bper ?cent\b", "%", text.lower().replace("\N{NO-BREAK SPACE}", " "))
    plain = " ".join(re.sub(r"\band\b", ",", plain).split()).strip(" ,.?")
    if plain in {"", "unknown", "not known", UNKNOWN}:
        return None
    part = _SHARE_FIRST if plain[0].isdigit() else _NAME_FIRST
    if rest := part.sub("", plain).strip(" ,;/+&."):
        raise ValueError(f"“{rest[:40]}” tells no fibre and its share: {_EXAMPLE}.")
    fibres: dict[Fibre, int] = {}
    for match in part.finditer(plain):
        fibre = _fibre(match["name"].strip(" ."))
        fibres[fibre] = fibres.get(fibre, 0) + int(match["share"])
    total = sum(fibres.values())
    if total != 100 or min(fibres.values()) < 1:
        raise ValueError(f"These fibres add up to {total} %, not to 100 %: {_EXAMPLE}.")
    return fibres


def fibre_name(fibre: Fibre, english: English = English.BRITISH) -> str:
    """Its name as the reader says it."""
    return AMERICAN.get(fibre, fibre.value) if english is English.AMERICAN else fibre.value


def fibres_line(fibres: Fibres | None, english: English = English.BRITISH) -> str:
    """The fibres, the largest share first: ``80 % acrylic, 20 % wool``."""
    if fibres is None:
        return UNKNOWN
    shares = sorted(fibres.items(), key=lambda item: (-item[1], item[0]))
    return ", ".join(f"{share} % {fibre_name(fibre, english)}" for fibre, share in shares)


def _fibre(name: str) -> Fibre:
    words = name.split()
    while len(words) > 1 and words[0] in _MERE:
        del words[0]
    known = _KNOWN.get(" ".join(words))
    if known is None:
        names = ", ".join(fibre.value for fibre in Fibre)
        raise ValueError(f"“{name[:40]}” is not one of the fibres that are told apart: {names}.")
    return known
