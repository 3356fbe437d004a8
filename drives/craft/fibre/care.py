"""How a yarn or a blanket is cared for, and what a blanket of several yarns stands."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, TypeVar

from .treatments import Bleach, DryClean, Iron, Natural, Treatment, Tumble, Wash, WetClean

T = TypeVar("T", bound=Treatment)


class Care(NamedTuple):
    """One treatment of each kind, in the order of the standard; None where nobody has told."""

    wash: Wash | None = None
    bleach: Bleach | None = None
    tumble: Tumble | None = None
    natural: Natural | None = None
    iron: Iron | None = None
    dry_clean: DryClean | None = None
    wet_clean: WetClean | None = None


TREATMENTS: Mapping[str, type[Treatment]] = {
    "wash": Wash,
    "bleach": Bleach,
    "tumble": Tumble,
    "natural": Natural,
    "iron": Iron,
    "dry_clean": DryClean,
    "wet_clean": WetClean,
}
"""What each field of ``Care`` may be."""


def gentlest(cares: Sequence[Care]) -> Care:
    """The most that a blanket of yarns with these ``cares`` stands.

    Where one of them is not told, that treatment is not known of the blanket either, unless
    another yarn stands no more than the gentlest there is.
    """
    return Care(
        _least(Wash, (care.wash for care in cares)),
        _least(Bleach, (care.bleach for care in cares)),
        _least(Tumble, (care.tumble for care in cares)),
        _least(Natural, (care.natural for care in cares)),
        _least(Iron, (care.iron for care in cares)),
        _least(DryClean, (care.dry_clean for care in cares)),
        _least(WetClean, (care.wet_clean for care in cares)),
    )


def _least(kind: type[T], told: Iterable[T | None]) -> T | None:
    """The roughest treatment that is no rougher, in any limit, than each of those told."""
    treatments = list(told)
    known = [treatment for treatment in treatments if treatment is not None]
    if not known:
        return None
    bounds = [min(limits) for limits in zip(*(one.limits for one in known), strict=True)]
    found = max(
        (one for one in kind if all(a <= b for a, b in zip(one.limits, bounds, strict=True))),
        key=lambda one: one.limits,
    )
    gentlest_of_all = not any(found.limits)
    return found if gentlest_of_all or None not in treatments else None
