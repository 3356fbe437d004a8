"""A conflict of a plan, a yarn or a finished blanket with the receiver's rules.

Rules that were not told never conflict. What is wrong, and what would mend it, is said in words.
"""

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import NamedTuple

from .rules import Rules

# Less than a tape measure tells on knitting, and never rounded to nothing in inches to the half.
SLACK = 0.7  # cm


class ConflictCode(StrEnum):
    """What goes against the rules; the values are stored, and codes of the API."""

    TOO_SMALL = "too-small"
    TOO_LARGE = "too-large"
    HOLES = "holes"
    FRINGE = "fringe"
    WASHED = "washed"
    NOT_WASHED = "not-washed"
    SMOKE = "smoke"
    PETS = "pets"
    NO_LABEL = "no-label"
    FIBRES_UNKNOWN = "fibres-unknown"
    FIBRE_REFUSED = "fibre-refused"
    FIBRE_NOT_WANTED = "fibre-not-wanted"
    HAIR_LIKE_WOOL = "hair-like-wool"
    WASHING_UNKNOWN = "washing-unknown"
    NOT_MACHINE_WASHABLE = "not-machine-washable"
    WASHED_TOO_HOT = "washed-too-hot"
    CYCLE_TOO_ROUGH = "cycle-too-rough"
    WOOL_WASHED_HOT = "wool-washed-hot"
    NOT_WASHABLE = "not-washable"
    DRYING_UNKNOWN = "drying-unknown"
    NOT_TUMBLE_DRIED = "not-tumble-dried"
    DYE_RUNS = "dye-runs"
    DYE_UNTESTED = "dye-untested"


Facts = Mapping[str, object]


class Conflict(NamedTuple):
    """``code``, and ``about`` what, where one code may come twice: a side, or a fibre.

    ``facts`` are plain enough for JSON. Of a size: whether it is of a ``finished`` blanket, and in
    cm what the side ``is``, the ``least`` and how much it is ``short``, or the ``most``, how much
    it is ``over``, and whether the blanket is for people in ``wheelchairs``. Of holes: whether it
    is of a ``finished`` blanket, else their ``places``, and whether it is for ``babies``. What the
    receiver asks of a finished blanket: whether somebody ``told`` that it falls short. Of a yarn:
    its name (``yarn``), the per cent (``share``) of the fibre, the fibres that are ``wanted``, and
    in °C the ``temperature`` at which the receiver washes, if told, and what the yarn ``stands``;
    of cycles whether it stands a ``mild`` one, else a very mild one alone; of wool that is said to
    stand much heat the per cent that come from ``animal``s.
    """

    code: ConflictCode
    facts: Facts
    about: str = ""


def size_conflicts(
    rules: Rules, sides: tuple[float, float], *, finished: bool
) -> Iterator[Conflict]:
    """A blanket with these ``sides`` in cm, ``finished`` or planned."""
    shorter, longer = sorted(sides)
    for side, real, least, most in (
        ("shorter", shorter, rules.shorter_from, rules.shorter_to),
        ("longer", longer, rules.longer_from, rules.longer_to),
    ):
        facts = {"finished": finished, "is": real}
        if least is not None and real < least - SLACK:
            small = {"least": least, "short": least - real}
            yield Conflict(ConflictCode.TOO_SMALL, facts | small, about=side)
        if most is not None and real > most + SLACK:
            large = {"most": most, "over": real - most, "wheelchairs": bool(rules.for_wheelchairs)}
            yield Conflict(ConflictCode.TOO_LARGE, facts | large, about=side)
