"""What to mind, as usual practice: the receiver's own rules come first."""

from typing import NamedTuple

from .typical import COMMON


class Caution(NamedTuple):
    """One sentence for makers and receivers, and who says so."""

    detail: str
    source: str


FIRST = Caution("This is usual practice; the receiver’s own rules come first.", COMMON)

AMERICAN_SLEEP = Caution(
    "The American Academy of Pediatrics advises against blankets and soft bedding where a baby"
    " under one year sleeps: this blanket is for prams, floors, wrapping and watched moments.",
    "AAP 2022, Pediatrics 150(1), e2022057990",
)
BRITISH_SLEEP = Caution(
    "In a cot, a light blanket is tucked in and comes no higher than the baby’s shoulders, and the"
    " baby’s feet lie at the foot of the cot.",
    "Scottish Cot Death Trust",
)
GENERAL_SLEEP = Caution(
    "Keep loose blankets out of the place where a baby under one year sleeps: this one is for"
    " prams, floors, wrapping and watched moments.",
    COMMON,
)
BABIES = (
    Caution("No fringe, bows, buttons or long floats.", COMMON),
    Caution(
        "No holes that catch a finger or a tube.",
        "projectlinusfl.org, projectlinuspgh.org, muoxford.org.uk, burpscharity.org",
    ),
)
WHEELCHAIRS = (
    Caution(
        "About 36 inches (91 cm) of width keep clear of the wheels.",
        "justastitchaway.blogspot.com/2008/03/afghan-blanket-sizes.html, quiltingboard.com",
    ),
    Caution("Excess cloth can cause sores, or catch in the wheels.", COMMON),
    Caution("No ties: they can count as a restraint.", COMMON),
)
FIBRES = (
    Caution(
        "Use only yarn whose fibres are known: many receivers refuse wool, or what cannot go into"
        " the washing machine, and some people are allergic to wool or latex.",
        COMMON,
    ),
    Caution("Dark reds, black and navy bleed most: soak a swatch before knitting.", COMMON),
)
HANDS = (
    Caution(
        "Picking up into tight edges strains hands and wrists: after half an hour to an hour of"
        " knitting, rest for 5 to 10 minutes.",
        COMMON,
    ),
    Caution("Stop at pain, tingling or numbness.", COMMON),
)


def cautions(
    country: str, *, for_babies: bool = False, for_wheelchairs: bool = False
) -> tuple[Caution, ...]:
    """What to mind where ``country`` (ISO 3166-1, two letters; may be empty) has the receiver."""
    use = in_use(country, for_babies=for_babies, for_wheelchairs=for_wheelchairs)
    return (FIRST, *use, *FIBRES, *HANDS)


def in_use(
    country: str, *, for_babies: bool = False, for_wheelchairs: bool = False
) -> tuple[Caution, ...]:
    """What of it concerns those who get the blanket.

    Safe sleep is advised differently in GB and in US; elsewhere what both have in common.
    """
    sleep = {"GB": (GENERAL_SLEEP, BRITISH_SLEEP), "US": (AMERICAN_SLEEP,)}
    return (
        *((*sleep.get(country.upper(), (GENERAL_SLEEP,)), *BABIES) if for_babies else ()),
        *(WHEELCHAIRS if for_wheelchairs else ()),
    )
