"""What the receiver of a blanket asks."""

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from drives.craft.fibre.fibres import ANIMAL, Fibre


@dataclass(frozen=True)
class Rules:
    """The rules of one receiver; whatever is None was not told, and nothing conflicts with it.

    Sizes in cm: a blanket may be turned, so they are told of its shorter and its longer side.
    ``wanted``: these fibres and no others; an empty set tells nothing. ``temperature``: the °C at
    which the receiver washes, ``mild`` whether on a mild cycle. ``animal``: whether they take what
    comes from animals. ``washed``: before it is given. ``label``: with fibres and care.
    """

    shorter_from: float | None = None
    shorter_to: float | None = None
    longer_from: float | None = None
    longer_to: float | None = None
    wanted: frozenset[Fibre] | None = None
    refused: frozenset[Fibre] | None = None
    animal: bool | None = None
    machine_wash: bool | None = None
    temperature: int | None = None
    mild: bool | None = None
    tumble: bool | None = None
    fringe: bool | None = None
    holes: bool | None = None
    smoke_free: bool | None = None
    pet_free: bool | None = None
    washed: bool | None = None
    label: bool | None = None
    for_babies: bool | None = None
    for_wheelchairs: bool | None = None

    @property
    def holes_allowed(self) -> bool | None:
        """The receiver's own word; for babies without one: none that a finger could enter."""
        return False if self.holes is None and self.for_babies else self.holes

    @property
    def fringe_allowed(self) -> bool | None:
        """The receiver's own word; for babies without one: none."""
        return False if self.fringe is None and self.for_babies else self.fringe

    @property
    def washes(self) -> bool:
        """Whether the receiver, or somebody before, is known to wash the blanket."""
        return bool(self.machine_wash or self.temperature is not None or self.washed)


class Muddle(StrEnum):
    """Rules that no blanket could keep."""

    SIZES = "sizes"
    FIBRE = "fibre"
    TEMPERATURE = "temperature"


class Contradiction(NamedTuple):
    """Two rules that contradict each other, ``about`` the shorter or longer side, or a fibre."""

    muddle: Muddle
    about: str = ""


def contradictions(rules: Rules) -> tuple[Contradiction, ...]:
    """What no blanket could keep, for whoever writes the rules down."""
    found = []
    for side, least, most in (
        ("shorter", rules.shorter_from, rules.shorter_to),
        ("longer", rules.longer_from, rules.longer_to),
    ):
        if least is not None and most is not None and least > most:
            found.append(Contradiction(Muddle.SIZES, side))
    wanted = rules.wanted or frozenset()
    both = wanted & ((rules.refused or frozenset()) | (ANIMAL if rules.animal is False else set()))
    found += [Contradiction(Muddle.FIBRE, fibre) for fibre in sorted(both)]
    if rules.machine_wash is False and (rules.temperature is not None or rules.mild is not None):
        found.append(Contradiction(Muddle.TEMPERATURE))
    return tuple(found)
