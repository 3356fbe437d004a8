"""The treatments of ISO 3758:2023 in words: what textiles are told to stand.

The standard's symbols are protected marks: they are never drawn. Its order is kept: wash, bleach,
dry, iron, professional care. Washing by hand at ambient temperature and ironing without steam
came with the edition of 2023.
"""

from enum import Enum


class Treatment(Enum):
    """The most that something stands: ``limits``, the larger the rougher, and the ``sentence``.

    Whoever stands one treatment stands every other that is no rougher in any of its limits.
    """

    limits: tuple[int, ...]
    sentence: str

    def __init__(self, limits: tuple[int, ...], sentence: str) -> None:
        self.limits = limits
        self.sentence = sentence


class Wash(Treatment):
    """``limits``: by hand or machine (the gentler cycle the lower), and the most °C."""

    NOT = (0, 0), "Do not wash."
    HAND_AMBIENT = (1, 20), "Wash by hand in water that is not warmed."
    HAND = (1, 40), "Wash by hand, at 40 °C at most."
    MACHINE_30_VERY_MILD = (2, 30), "Wash in the machine at 30 °C at most, on a very mild cycle."
    MACHINE_30_MILD = (3, 30), "Wash in the machine at 30 °C at most, on a mild cycle."
    MACHINE_30 = (4, 30), "Wash in the machine at 30 °C at most."
    MACHINE_40_VERY_MILD = (2, 40), "Wash in the machine at 40 °C at most, on a very mild cycle."
    MACHINE_40_MILD = (3, 40), "Wash in the machine at 40 °C at most, on a mild cycle."
    MACHINE_40 = (4, 40), "Wash in the machine at 40 °C at most."
    MACHINE_50_MILD = (3, 50), "Wash in the machine at 50 °C at most, on a mild cycle."
    MACHINE_50 = (4, 50), "Wash in the machine at 50 °C at most."
    MACHINE_60_MILD = (3, 60), "Wash in the machine at 60 °C at most, on a mild cycle."
    MACHINE_60 = (4, 60), "Wash in the machine at 60 °C at most."
    MACHINE_70 = (4, 70), "Wash in the machine at 70 °C at most."
    MACHINE_95 = (4, 95), "Wash in the machine at 95 °C at most."

    @property
    def machine(self) -> bool:
        return self.limits[0] > 1

    @property
    def temperature(self) -> int:
        """The most °C that the water may have; 0 where it may not be washed."""
        return self.limits[1]


class Bleach(Treatment):
    NOT = (0,), "Do not bleach."
    OXYGEN = (1,), "Bleach with oxygen only, never with chlorine."
    ANY = (2,), "Any bleach may be used."


class Tumble(Treatment):
    NOT = (0,), "Do not tumble dry."
    LOW = (1,), "Tumble dry at low heat."
    NORMAL = (2,), "Tumble dry at normal heat."


class Natural(Treatment):
    """Drying in the air. ``limits``: may hang, may be spun, may lie in the sun."""

    DRIP_FLAT_SHADE = (0, 0, 0), "Dry flat in the shade, dripping wet."
    DRIP_FLAT = (0, 0, 1), "Dry flat, dripping wet."
    FLAT_SHADE = (0, 1, 0), "Dry flat in the shade."
    FLAT = (0, 1, 1), "Dry flat."
    DRIP_LINE_SHADE = (1, 0, 0), "Dry on a line in the shade, dripping wet."
    DRIP_LINE = (1, 0, 1), "Dry on a line, dripping wet."
    LINE_SHADE = (1, 1, 0), "Dry on a line in the shade."
    LINE = (1, 1, 1), "Dry on a line."


class Iron(Treatment):
    """``limits``: heat, steam."""

    NOT = (0, 0), "Do not iron."
    LOW = (1, 0), "Iron at low heat, without steam."
    MEDIUM_DRY = (2, 0), "Iron at medium heat, without steam."
    MEDIUM = (2, 1), "Iron at medium heat."
    HIGH_DRY = (3, 0), "Iron at high heat, without steam."
    HIGH = (3, 1), "Iron at high heat."


class DryClean(Treatment):
    """``limits``: solvent (1 hydrocarbons, 2 tetrachloroethene too), process."""

    NOT = (0, 0), "Do not dry clean."
    F_MILD = (1, 1), "Professional dry cleaning F (hydrocarbons), mild process."
    F = (1, 2), "Professional dry cleaning F (hydrocarbons)."
    P_MILD = (2, 1), "Professional dry cleaning P, mild process."
    P = (2, 2), "Professional dry cleaning P."


class WetClean(Treatment):
    NOT = (0,), "Do not wet clean."
    VERY_MILD = (1,), "Professional wet cleaning W, very mild process."
    MILD = (2,), "Professional wet cleaning W, mild process."
    NORMAL = (3,), "Professional wet cleaning W."
