"""Typical rules by kind of receiver, to begin with until the receiver has been asked."""

from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from drives.craft.layout.sizing import CM_PER_INCH

from .rules import Rules
from .sizes import TYPICAL, Use
from .sources import BABIES, Unpublished


class ReceiverKind(StrEnum):
    """Kinds of receivers."""

    NEONATAL_UNIT = "neonatal-unit"
    CHILDRENS_WARD = "childrens-ward"
    REFUGE = "refuge"
    CARE_HOME = "care-home"
    WHEELCHAIR_USERS = "wheelchair-users"


class Template(NamedTuple):
    """Typical ``rules`` and no more: each is to be confirmed with the receiver.

    ``sources`` has for each rule that is told a citation, or a ``Unpublished``.
    """

    rules: Rules
    sources: Mapping[str, str]


_SIZES = {typical.use: typical for typical in TYPICAL}
_NEONATAL = _SIZES[Use.NEONATAL_UNIT]
_CHILD = _SIZES[Use.CHILD]
_TEENAGER = _SIZES[Use.TEENAGER]
_WHEELCHAIR = _SIZES[Use.LAP]


_WASHED_BY_MACHINE = {"machine_wash": Unpublished.COMMON}


def _cm(inches: int) -> float:
    return inches * CM_PER_INCH


# Receivers contradict each other on wool, on washing before, on the smallest size: what is told
# here is what the sources agree on, everything else is left to be asked.
TEMPLATES: Mapping[ReceiverKind, Template] = {
    ReceiverKind.NEONATAL_UNIT: Template(
        Rules(
            shorter_from=_cm(_NEONATAL.inches[0]),
            longer_from=_cm(_NEONATAL.inches[1]),
            machine_wash=True,
            fringe=False,
            holes=False,
            smoke_free=True,
            pet_free=True,
            label=True,
            for_babies=True,
        ),
        {"shorter_from": _NEONATAL.source, "longer_from": _NEONATAL.source}
        | _WASHED_BY_MACHINE
        | {"for_babies": Unpublished.RECEIVER}
        | dict.fromkeys(("fringe", "holes", "smoke_free", "pet_free", "label"), BABIES),
    ),
    ReceiverKind.CHILDRENS_WARD: Template(
        Rules(
            shorter_from=_cm(_CHILD.inches[0]),
            longer_from=_cm(_CHILD.inches[1]),
            shorter_to=_cm(_TEENAGER.inches[0]),
            longer_to=_cm(_TEENAGER.inches[1]),
            machine_wash=True,
            fringe=False,
            smoke_free=True,
            pet_free=True,
            label=True,
        ),
        {"shorter_from": _CHILD.source, "longer_from": _CHILD.source}
        | {"shorter_to": _TEENAGER.source, "longer_to": _TEENAGER.source}
        | _WASHED_BY_MACHINE
        | dict.fromkeys(("fringe", "smoke_free", "pet_free", "label"), BABIES),
    ),
    ReceiverKind.REFUGE: Template(Rules(machine_wash=True), _WASHED_BY_MACHINE),
    ReceiverKind.CARE_HOME: Template(Rules(machine_wash=True), _WASHED_BY_MACHINE),
    ReceiverKind.WHEELCHAIR_USERS: Template(
        Rules(
            shorter_to=_cm(_WHEELCHAIR.inches[0]),  # wider cloth comes near the wheels
            machine_wash=True,
            for_wheelchairs=True,
        ),
        {"shorter_to": _WHEELCHAIR.source}
        | _WASHED_BY_MACHINE
        | {"for_wheelchairs": Unpublished.RECEIVER},
    ),
}
