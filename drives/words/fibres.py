"""What a yarn is made of, said, and read as bands and people write it."""

import re

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.fibre.fibres import HAIR, Fibre, Fibres, by_share

NAMES = {
    Fibre.WOOL: gettext_lazy("wool"),
    Fibre.ALPACA: gettext_lazy("alpaca"),
    Fibre.MOHAIR: gettext_lazy("mohair"),
    Fibre.CASHMERE: gettext_lazy("cashmere"),
    Fibre.ANGORA: gettext_lazy("angora"),
    Fibre.LLAMA: gettext_lazy("llama"),
    Fibre.CAMEL: gettext_lazy("camel"),
    Fibre.YAK: gettext_lazy("yak"),
    Fibre.SILK: gettext_lazy("silk"),
    Fibre.COTTON: gettext_lazy("cotton"),
    Fibre.LINEN: gettext_lazy("linen"),
    Fibre.HEMP: gettext_lazy("hemp"),
    Fibre.VISCOSE: gettext_lazy("viscose"),
    Fibre.BAMBOO: gettext_lazy("bamboo viscose"),
    Fibre.MODAL: gettext_lazy("modal"),
    Fibre.LYOCELL: gettext_lazy("lyocell"),
    Fibre.ACRYLIC: gettext_lazy("acrylic"),
    Fibre.POLYAMIDE: gettext_lazy("polyamide"),
    Fibre.POLYESTER: gettext_lazy("polyester"),
    Fibre.ELASTANE: gettext_lazy("elastane"),
    Fibre.RUBBER: gettext_lazy("rubber (latex)"),
    Fibre.OTHER: gettext_lazy("other fibres"),
}
# What bands and people write besides; both Englishes are read by everybody.
_BESIDES = (
    {"rayon": Fibre.VISCOSE, "bamboo rayon": Fibre.BAMBOO, "nylon": Fibre.POLYAMIDE}
    | {"spandex": Fibre.ELASTANE, "flax": Fibre.LINEN, "true hemp": Fibre.HEMP}
    | dict.fromkeys(("latex", "elastodiene", "natural rubber"), Fibre.RUBBER)
    # Merino is wool: who refuses wool refuses it.
    | dict.fromkeys(("merino", "lambswool", "lamb’s wool", "lamb's wool"), Fibre.WOOL)
    | dict.fromkeys(("bamboo", "viscose (bamboo)", "rayon (bamboo)"), Fibre.BAMBOO)
    | dict.fromkeys(("viscose from bamboo", "rayon from bamboo"), Fibre.BAMBOO)
    | {"other": Fibre.OTHER, "other fibers": Fibre.OTHER}
    # “With or without ‘wool’ or ‘hair’” (the Regulation, Annex I, 2): none of them is wool.
    | {f"{hair.value} {of}": hair for hair in HAIR for of in ("wool", "hair")}
)
_UNKNOWN = {"", "unknown", "not known", "fibres not known", "fibers not known"}
# Words that may stand before any fibre and change nothing of what it is …
_MERE = {"baby", "extra", "fine", "new", "organic", "pure", "recycled", "superfine", "virgin"}
# … and before one alone: “merino cotton” is neither wool nor cotton.
_MERE_OF = {
    Fibre.WOOL: {"merino", "shetland", "superwash"},
    Fibre.MOHAIR: {"kid", "super"},
    Fibre.COTTON: {"combed", "mercerised", "mercerized"},
}
_SHARE_FIRST = re.compile(r"(?P<share>\d+) ?% ?(?P<name>[^\d%,;/+&]+)")
_BRACKETS = re.compile(r"([^()]+) \(([^()]+)\)")
_NAME_FIRST = re.compile(r"(?P<name>[^\d%,;/+&]+?) ?(?P<share>\d+) ?%")


def fibre_name(fibre: Fibre) -> str:
    return str(NAMES[fibre])


def fibres_line(fibres: Fibres | None) -> str:
    """The fibres, the largest share first: ``80 % acrylic, 20 % wool``."""
    if fibres is None:
        return _("fibres not known")
    return ", ".join(share_of(fibre, share) for fibre, share in by_share(fibres))


def share_of(fibre: Fibre, share: int) -> str:
    """So many per cent of it: ``20 % wool``."""
    return _("%(share)d %% %(fibre)s") % {"share": share, "fibre": fibre_name(fibre)}


def read_fibres(text: str) -> Fibres | None:
    """Read fibres as a yarn's band tells them; nothing, or “unknown”, is None.

    Names may be those of the reader's language, of both Englishes, or the codes. Raises ValueError,
    with a sentence, where a part cannot be read or the sum is not 100.

    >>> read("80% superwash wool, 20% nylon")
    {<Fibre.WOOL: 'wool'>: 80, <Fibre.POLYAMIDE: 'polyamide'>: 20}
    """
    plain = re.sub(r"\bper ?cent\b", "%", text.lower().replace("\N{NO-BREAK SPACE}", " "))
    plain = " ".join(re.sub(r"\band\b", ",", plain).split()).strip(" ,.?")
    if plain in _UNKNOWN or plain == fibres_line(None).lower():
        return None
    part = _SHARE_FIRST if plain[0].isdigit() else _NAME_FIRST
    if rest := part.sub("", plain).strip(" ,;/+&."):
        wrong = _(
            "“%(text)s” tells no fibre and its share: write them in whole per cent, like "
            "“80 %% acrylic, 20 %% wool”."
        )
        raise ValueError(wrong % {"text": rest[:40]})
    known = _known()
    fibres: dict[Fibre, int] = {}
    for match in part.finditer(plain):
        fibre = _fibre(match["name"].strip(" ."), known)
        fibres[fibre] = fibres.get(fibre, 0) + int(match["share"])
    total = sum(fibres.values())
    if total != 100 or min(fibres.values()) < 1:
        wrong = _(
            "These fibres add up to %(total)d %%, not to 100 %%: write them in whole per cent, "
            "like “80 %% acrylic, 20 %% wool”."
        )
        raise ValueError(wrong % {"total": total})
    return fibres


def _known() -> dict[str, Fibre]:
    codes = {fibre.value: fibre for fibre in Fibre}
    return {fibre_name(fibre).lower(): fibre for fibre in Fibre} | _BESIDES | codes


def _fibre(name: str, known: dict[str, Fibre]) -> Fibre:
    found = _named(name, known)
    if found is None:
        wrong = _("“%(name)s” is not one of the fibres that are told apart: %(fibres)s.")
        names = ", ".join(fibre_name(fibre) for fibre in Fibre)
        raise ValueError(wrong % {"name": name[:40], "fibres": names})
    return found


def _named(name: str, known: dict[str, Fibre]) -> Fibre | None:
    """The fibre of this name, with mere words before it, or with a second name in brackets."""
    words = name.split()
    for at in range(len(words)):
        if fibre := known.get(" ".join(words[at:])):
            mere = _MERE | _MERE_OF.get(fibre, set())
            return fibre if mere.issuperset(words[:at]) else None
    if twice := _BRACKETS.fullmatch(name):
        one, other = (_named(part, known) for part in twice.groups())
        return one if one is other else None
    return None
