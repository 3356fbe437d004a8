"""What an estimate of yarn rests on."""

from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import Place


class Evidence(StrEnum):
    """What was weighed, or else the category alone."""

    BLANKET = "squares-of-the-blanket"
    SQUARES = "squares"
    SWATCHES = "swatches"
    CATEGORY = "category"


class RestsOn(NamedTuple):
    """How many were ``weighed``, or the number of the ``category``.

    ``left_out``: squares that weigh far from the others.
    """

    evidence: Evidence
    weighed: int = 0
    category: int | None = None
    left_out: tuple[Place, ...] = ()
