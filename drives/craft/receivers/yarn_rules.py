"""Where a yarn goes against the receiver's rules, before anybody knits with it."""

from collections.abc import Iterator
from typing import NamedTuple

from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibres
from drives.craft.fibre.treatments import Tumble

from .conflicts import Conflict, ConflictCode
from .rules import Rules


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


def yarn_conflicts(rules: Rules, yarn: YarnFacts) -> list[Conflict]:
    """What the receiver would refuse of a yarn, fibres first, then washing, drying, dye."""
    return [
        Conflict(code, {"yarn": yarn.name, **facts}, about)
        for each in (_fibres, _washing, _drying, _dye)
        for code, facts, about in each(rules, yarn)
    ]


def _fibres(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if yarn.fibres is None:
        if rules.wanted or rules.refused or rules.label:
            yield Conflict(ConflictCode.FIBRES_UNKNOWN, {})
        return
    for fibre, share in sorted(yarn.fibres.items(), key=lambda item: (-item[1], item[0])):
        if fibre in (rules.refused or ()):
            yield Conflict(ConflictCode.FIBRE_REFUSED, {"share": share}, about=fibre)
        elif rules.wanted and fibre not in rules.wanted:
            facts = {"share": share, "wanted": sorted(rules.wanted)}
            yield Conflict(ConflictCode.FIBRE_NOT_WANTED, facts, about=fibre)


def _washing(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if not rules.machine_wash and rules.temperature is None:
        return
    wash, facts = yarn.care.wash, {"temperature": rules.temperature}
    if wash is None:
        yield Conflict(ConflictCode.WASHING_UNKNOWN, facts)
    elif not wash.machine:
        yield Conflict(ConflictCode.NOT_MACHINE_WASHABLE, facts)
    elif rules.temperature is not None and wash.temperature < rules.temperature:
        yield Conflict(ConflictCode.WASHED_TOO_HOT, facts | {"stands": wash.temperature})


def _drying(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if rules.tumble and yarn.care.tumble is None:
        yield Conflict(ConflictCode.DRYING_UNKNOWN, {})
    elif rules.tumble and yarn.care.tumble is Tumble.NOT:
        yield Conflict(ConflictCode.NOT_TUMBLE_DRIED, {})


def _dye(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    if rules.washes and yarn.fast is False:
        yield Conflict(ConflictCode.DYE_RUNS, {})
    elif rules.washes and yarn.fast is None and yarn.dark:
        yield Conflict(ConflictCode.DYE_UNTESTED, {})
