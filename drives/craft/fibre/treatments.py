"""The treatments of ISO 3758:2023: what textiles are told to stand.

The standard's symbols are protected marks: they are never drawn. Its order is kept: wash, bleach,
dry, iron, professional care. Washing by hand at ambient temperature and ironing without steam
came with the edition of 2023.
"""

from enum import Enum, IntEnum


class Treatment(Enum):
    """The most that something stands. The names are stored.

    Whoever stands one treatment stands every other that is no rougher in any of its limits.
    """

    @property
    def limits(self) -> tuple[int, ...]:
        """The larger the rougher."""
        limits: tuple[int, ...] = self.value
        return limits


class Cycle(IntEnum):
    """Of a washing machine: the lower the gentler."""

    VERY_MILD = 2
    MILD = 3
    NORMAL = 4


class Wash(Treatment):
    """``limits``: by hand or machine (the gentler cycle the lower), and the most °C."""

    NOT = (0, 0)
    HAND_AMBIENT = (1, 20)
    HAND = (1, 40)
    MACHINE_30_VERY_MILD = (2, 30)
    MACHINE_30_MILD = (3, 30)
    MACHINE_30 = (4, 30)
    MACHINE_40_VERY_MILD = (2, 40)
    MACHINE_40_MILD = (3, 40)
    MACHINE_40 = (4, 40)
    MACHINE_50_MILD = (3, 50)
    MACHINE_50 = (4, 50)
    MACHINE_60_MILD = (3, 60)
    MACHINE_60 = (4, 60)
    MACHINE_70 = (4, 70)
    MACHINE_95 = (4, 95)

    @property
    def machine(self) -> bool:
        return self.limits[0] > 1

    @property
    def cycle(self) -> Cycle:
        """Of what goes into the machine: the roughest that it stands."""
        return Cycle(self.limits[0])

    @property
    def temperature(self) -> int:
        """The most °C that the water may have; 0 where it may not be washed."""
        return self.limits[1]


class Bleach(Treatment):
    NOT = (0,)
    OXYGEN = (1,)
    ANY = (2,)


class Tumble(Treatment):
    NOT = (0,)
    LOW = (1,)
    NORMAL = (2,)


class Natural(Treatment):
    """Drying in the air. ``limits``: may hang, may be spun, may lie in the sun."""

    DRIP_FLAT_SHADE = (0, 0, 0)
    DRIP_FLAT = (0, 0, 1)
    FLAT_SHADE = (0, 1, 0)
    FLAT = (0, 1, 1)
    DRIP_LINE_SHADE = (1, 0, 0)
    DRIP_LINE = (1, 0, 1)
    LINE_SHADE = (1, 1, 0)
    LINE = (1, 1, 1)


class Iron(Treatment):
    """``limits``: heat, steam."""

    NOT = (0, 0)
    LOW = (1, 0)
    MEDIUM_DRY = (2, 0)
    MEDIUM = (2, 1)
    HIGH_DRY = (3, 0)
    HIGH = (3, 1)


class DryClean(Treatment):
    """``limits``: solvent (1 hydrocarbons, 2 tetrachloroethene too), process."""

    NOT = (0, 0)
    F_MILD = (1, 1)
    F = (1, 2)
    P_MILD = (2, 1)
    P = (2, 2)


class WetClean(Treatment):
    NOT = (0,)
    VERY_MILD = (1,)
    MILD = (2,)
    NORMAL = (3,)
