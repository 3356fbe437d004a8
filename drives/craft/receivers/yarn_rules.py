"""Where a yarn goes against the receiver's rules, before anybody knits with it."""

from collections.abc import Iterator
from typing import NamedTuple

from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibres, fibre_name
from drives.craft.fibre.treatments import Tumble
from drives.craft.knitter import English

from .conflicts import Conflict
from .rules import Rules

_ASK = "or ask the receiver whether they make an exception."
_BAND = "Look at its band, or ask who gave it; until then keep it for another drive."


class YarnFacts(NamedTuple):
    """What is known of a yarn. ``fibres`` None: not known.

    ``fast``: whether its dye stayed in a soaked swatch, None where nobody has tried. ``dark``: a
    dark red, black, navy or the like, which bleed most.
    """

    name: str
    fibres: Fibres | None = None
    care: Care = Care()
    fast: bool | None = None
    dark: bool = False


def yarn_conflicts(
    rules: Rules, yarn: YarnFacts, english: English = English.BRITISH
) -> list[Conflict]:
    """What the receiver would refuse of a yarn, fibres first, then washing, drying, dye."""
    return [
        *_fibres(rules, yarn, english),
        *_washing(rules, yarn),
        *_drying(rules, yarn),
        *_dye(rules, yarn),
    ]


def _fibres(rules: Rules, yarn: YarnFacts, english: English) -> Iterator[Conflict]:
    if yarn.fibres is None:
        if rules.wanted or rules.refused or rules.label:
            detail = f"Nobody knows what “{yarn.name}” is made of; the receiver asks for it."
            yield Conflict("fibres-unknown", detail, _BAND)
        return
    for fibre, share in sorted(yarn.fibres.items(), key=lambda item: (-item[1], item[0])):
        name = fibre_name(fibre, english)
        told = f"“{yarn.name}” has {share} % {name};"
        if fibre in (rules.refused or ()):
            mend = f"Take a yarn without {name}, {_ASK}"
            yield Conflict("fibre-refused", f"{told} the receiver refuses it.", mend, about=fibre)
        elif rules.wanted and fibre not in rules.wanted:
            wanted = " and ".join(fibre_name(one, english) for one in sorted(rules.wanted))
            mend = f"Take a yarn of {wanted} alone, {_ASK}"
            detail = f"{told} the receiver wants nothing but {wanted}."
            yield Conflict("fibre-not-wanted", detail, mend, about=fibre)


def _washing(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if not rules.machine_wash and rules.temperature is None:
        return
    wash = yarn.care.wash
    at = "" if rules.temperature is None else f" at {rules.temperature} °C"
    receiver = f"the receiver washes in the machine{at}."
    if wash is None:
        detail = f"Nobody has told how “{yarn.name}” is washed; {receiver}"
        yield Conflict("washing-unknown", detail, "Look at its band, or wash a swatch like that.")
    elif not wash.machine:
        detail = f"“{yarn.name}” cannot go into the washing machine; {receiver}"
        yield Conflict("not-machine-washable", detail, f"Take a yarn that can, {_ASK}")
    elif rules.temperature is not None and wash.temperature < rules.temperature:
        detail = f"“{yarn.name}” is washed at {wash.temperature} °C at most; {receiver}"
        yield Conflict("washed-too-hot", detail, f"Take a yarn that stands it, {_ASK}")


def _drying(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if not rules.tumble:
        return
    if yarn.care.tumble is None:
        detail = f"Nobody has told whether “{yarn.name}” can be tumble dried; the receiver does so."
        yield Conflict("drying-unknown", detail, "Look at its band, or tumble dry a swatch.")
    elif yarn.care.tumble is Tumble.NOT:
        detail = f"“{yarn.name}” must not be tumble dried; the receiver does so."
        yield Conflict("not-tumble-dried", detail, f"Take a yarn that can be, {_ASK}")


def _dye(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if not rules.washes:
        return
    if yarn.fast is False:
        detail = f"The dye of “{yarn.name}” runs in water; the blanket will be washed."
        mend = "Soak it until the water stays clear and try a swatch again, or take another yarn."
        yield Conflict("dye-runs", detail, mend)
    elif yarn.fast is None and yarn.dark:
        detail = f"“{yarn.name}” is dark, and nobody has tried whether its dye stays in."
        mend = "Soak a swatch on a white cloth before anybody knits with it."
        yield Conflict("dye-untested", detail, mend)
