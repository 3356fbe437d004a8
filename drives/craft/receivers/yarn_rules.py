"""Where a yarn goes against the receiver's rules, before anybody knits with it."""

from collections.abc import Iterator
from typing import NamedTuple

from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import ANIMAL, HAIR, Fibre, Fibres
from drives.craft.fibre.treatments import Cycle, Tumble, Wash

from .conflicts import Conflict, ConflictCode
from .rules import Rules

# Superwash wool is washed in a machine, but at 30 or 40 °C. (common practice)
HOT_FOR_WOOL = 40  # °C
WOOLLY = 50  # % of animal fibres, from which a hotter wash is doubted


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
    refused = rules.refused or frozenset()
    wool_alone = Fibre.WOOL in refused and rules.animal is None
    if rules.animal is False:
        refused |= ANIMAL
    if yarn.fibres is None:
        if rules.wanted or refused or rules.label:
            yield Conflict(ConflictCode.FIBRES_UNKNOWN, {})
        return
    for fibre, share in sorted(yarn.fibres.items(), key=lambda item: (-item[1], item[0])):
        if fibre in refused:
            yield Conflict(ConflictCode.FIBRE_REFUSED, {"share": share}, about=fibre)
        elif rules.wanted and fibre not in rules.wanted:
            facts = {"share": share, "wanted": sorted(rules.wanted)}
            yield Conflict(ConflictCode.FIBRE_NOT_WANTED, facts, about=fibre)
        elif fibre is Fibre.OTHER and not rules.wanted and (refused or rules.label):
            yield Conflict(ConflictCode.FIBRES_UNKNOWN, {"share": share}, about=fibre)
        elif fibre in HAIR and wool_alone:
            yield Conflict(ConflictCode.HAIR_LIKE_WOOL, {"share": share}, about=fibre)


def _washing(rules: Rules, yarn: YarnFacts) -> Iterator[Conflict]:
    wash, facts = yarn.care.wash, {"temperature": rules.temperature}
    if not rules.machine_wash and rules.temperature is None:
        if rules.washed and wash is Wash.NOT:
            yield Conflict(ConflictCode.NOT_WASHABLE, {})
        return
    if wash is None:
        yield Conflict(ConflictCode.WASHING_UNKNOWN, facts)
    elif not wash.machine:
        yield Conflict(ConflictCode.NOT_MACHINE_WASHABLE, facts)
    else:
        yield from _in_the_machine(rules, wash, yarn)


def _in_the_machine(rules: Rules, wash: Wash, yarn: YarnFacts) -> Iterator[Conflict]:
    """Of a yarn that a machine may wash."""
    facts = {"temperature": rules.temperature}
    if rules.temperature is not None and wash.temperature < rules.temperature:
        yield Conflict(ConflictCode.WASHED_TOO_HOT, facts | {"stands": wash.temperature})
    # Where they have told neither degrees nor cycle, they are thought to go by the band.
    told = rules.temperature is not None or rules.mild is not None
    if told and wash.cycle < (Cycle.MILD if rules.mild else Cycle.NORMAL):
        mild = wash.cycle is Cycle.MILD
        yield Conflict(ConflictCode.CYCLE_TOO_ROUGH, facts | {"mild": mild})
    animal = sum(share for fibre, share in (yarn.fibres or {}).items() if fibre in ANIMAL)
    if animal >= WOOLLY and wash.temperature > HOT_FOR_WOOL:
        hot = {"animal": animal, "stands": wash.temperature}
        yield Conflict(ConflictCode.WOOL_WASHED_HOT, hot)


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
