"""What a palette must be like."""

from collections.abc import Collection, Sequence
from enum import StrEnum

MOST_COLOURS = 24  # of one blanket


class PaletteFault(StrEnum):
    """What is wrong with a colour of a palette."""

    TWICE = "twice"
    IN_STORE = "in-store"
    NOT_IN_STORE = "not-in-store"


class Help(StrEnum):
    """What to change of a palette or its rules, where there is no plan."""

    NO_MARGIN = "no-margin"
    SEAMS_ALIKE = "seams-alike"
    ALIKE = "alike"
    NO_LIMITS = "no-limits"
    ONE_MORE = "one-more"


def palette_faults(
    palette: Sequence[tuple[str, bool]], store: Collection[str]
) -> dict[int, PaletteFault]:
    """By the number of the colour, from 0, in ``palette``: names, and whether it is brought along.

    No two are of one name, in capitals or not. What is brought has a name that the ``store`` does
    not have; what is not brought is there. A name that is empty is passed over.
    """
    found: dict[int, PaletteFault] = {}
    seen: set[str] = set()
    folded = {name.casefold() for name in store}
    for number, (name, own) in enumerate(palette):
        if not name:
            continue
        if not own and name not in store:
            found[number] = PaletteFault.NOT_IN_STORE
        elif name.casefold() in seen:
            found[number] = PaletteFault.TWICE
        elif own and name.casefold() in folded:
            found[number] = PaletteFault.IN_STORE
        seen.add(name.casefold())
    return found
