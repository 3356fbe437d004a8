"""A conflict of a plan, a yarn or a finished blanket with the receiver's rules.

Each conflict says what is wrong and what would mend it, at the moment when that is still possible.
Rules that were not told never conflict.
"""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from .rules import Rules

# Less than a tape measure tells on knitting, and never rounded to nothing in inches to the half.
SLACK = 0.7  # cm

Length = Callable[[float], str]
"""Says a length, given in cm, as the circle does."""


class Conflict(NamedTuple):
    """``code`` for programs, and ``about`` what, where one code may come twice; two sentences."""

    code: str
    detail: str
    mend: str
    about: str = ""


def in_cm(length: float) -> str:
    return f"{length:.0f} cm"


def no_holes(rules: Rules) -> str:
    """The end of a sentence about holes that the receiver does not take."""
    reason = ": fingers and tubes catch in them" if rules.for_babies else ""
    return f"the receiver takes none{reason}."


def size_conflicts(
    rules: Rules,
    sides: tuple[float, float],
    length: Length,
    *,
    would_be: str,
    small: str,
    large: str,
) -> Iterator[Conflict]:
    """A blanket with these ``sides`` in cm; ``small`` and ``large`` say what would mend it."""
    shorter, longer = sorted(sides)
    for side, real, least, most in (
        ("shorter", shorter, rules.shorter_from, rules.shorter_to),
        ("longer", longer, rules.longer_from, rules.longer_to),
    ):
        told = f"The blanket {would_be} {length(real)} on its {side} side; the receiver takes"
        if least is not None and real < least - SLACK:
            detail = f"{told} {length(least)} or more: it is {length(least - real)} short."
            yield Conflict("too-small", detail, small, about=side)
        if most is not None and real > most + SLACK:
            wheels = " Excess cloth catches in the wheels." if rules.for_wheelchairs else ""
            detail = f"{told} {length(most)} at most: it is {length(real - most)} too much.{wheels}"
            yield Conflict("too-large", detail, large, about=side)
