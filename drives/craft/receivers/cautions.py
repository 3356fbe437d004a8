"""What to mind, as usual practice: the receiver's own rules come first."""

from enum import Enum

from . import sources
from .sources import Unpublished


class Caution(Enum):
    """What makers and receivers mind; the values are codes."""

    AMERICAN_SLEEP = "sleep-us"
    BRITISH_SLEEP = "sleep-gb"
    GENERAL_SLEEP = "sleep"
    NO_FRINGE = "no-fringe"
    NO_HOLES = "no-holes"
    NARROW = "clear-of-wheels"
    EXCESS = "excess-cloth"
    NO_TIES = "no-ties"
    KNOWN_FIBRES = "known-fibres"
    DARK_DYES = "dark-dyes"
    REST = "rest"
    STOP = "stop"

    @property
    def source(self) -> str:
        """Who says so: a citation, or a ``Unpublished``."""
        return _SOURCES.get(self, Unpublished.COMMON)


_SOURCES = {
    Caution.AMERICAN_SLEEP: sources.AAP,
    Caution.BRITISH_SLEEP: sources.COT_DEATH_TRUST,
    Caution.NO_HOLES: sources.BABIES,
    Caution.NARROW: sources.WHEELS,
}

FOR_BABIES = (Caution.NO_FRINGE, Caution.NO_HOLES)
FOR_WHEELCHAIRS = (Caution.NARROW, Caution.EXCESS, Caution.NO_TIES)
FIBRE_CAUTIONS = (Caution.KNOWN_FIBRES, Caution.DARK_DYES)
FOR_HANDS = (Caution.REST, Caution.STOP)


def in_use(
    country: str, *, for_babies: bool = False, for_wheelchairs: bool = False
) -> tuple[Caution, ...]:
    """What concerns those who get a blanket.

    ``country``: ISO 3166-1, two letters, of the receiver; may be empty. Safe sleep is advised
    differently in GB and in US; elsewhere what both have in common.
    """
    sleep = {
        "GB": (Caution.GENERAL_SLEEP, Caution.BRITISH_SLEEP),
        "US": (Caution.AMERICAN_SLEEP,),
    }
    return (
        *(
            (*sleep.get(country.upper(), (Caution.GENERAL_SLEEP,)), *FOR_BABIES)
            if for_babies
            else ()
        ),
        *(FOR_WHEELCHAIRS if for_wheelchairs else ()),
    )
