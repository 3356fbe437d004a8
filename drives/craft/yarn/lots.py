"""Yarns of one colour: which of them may be knitted into one blanket, and how they meet there."""

from enum import StrEnum
from typing import NamedTuple

from drives.craft.fibre.fibres import Fibres


class LotWay(StrEnum):
    """How several dye lots of a colour lie in a blanket; the values are stored.

    Two lots are hardly ever quite alike, which is seen where they touch (common practice).
    """

    NEVER_SIDE_BY_SIDE = "never-side-by-side"
    AT_A_SEAM = "changed-at-a-seam"


class Strand(NamedTuple):
    """What two yarns must have in common; None where nobody knows it.

    ``category``: of the Craft Yarn Council's Standard Yarn Weight System.
    """

    category: int | None
    fibres: Fibres | None


class Unlike(StrEnum):
    """Why two yarns are never knitted into one blanket as one colour."""

    THICKNESS = "thickness"
    FIBRES = "fibres"
    NOT_KNOWN = "not-known"


def unlike(one: Strand, other: Strand) -> Unlike | None:
    """None where they are of one thickness and of the same fibres, and both are known."""
    if None not in (one.category, other.category) and one.category != other.category:
        return Unlike.THICKNESS
    if one.fibres is not None and other.fibres is not None and one.fibres != other.fibres:
        return Unlike.FIBRES
    if None in (one.category, other.category) or one.fibres is None or other.fibres is None:
        return Unlike.NOT_KNOWN
    return None
