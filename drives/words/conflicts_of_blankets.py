"""What is wrong with the size of a blanket, its holes, or what nobody has said of it."""

from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.receivers.conflicts import Conflict, ConflictCode


def size_detail(conflict: Conflict) -> str:
    match conflict.code, bool(conflict.facts["finished"]), conflict.about:
        case ConflictCode.TOO_SMALL, False, "shorter":
            return _(
                "The blanket would be %(is)s on its shorter side; "
                "the receiver takes %(least)s or more: it is %(short)s short."
            )
        case ConflictCode.TOO_SMALL, False, _side:
            return _(
                "The blanket would be %(is)s on its longer side; "
                "the receiver takes %(least)s or more: it is %(short)s short."
            )
        case ConflictCode.TOO_SMALL, True, "shorter":
            return _(
                "The blanket is %(is)s on its shorter side; "
                "the receiver takes %(least)s or more: it is %(short)s short."
            )
        case ConflictCode.TOO_SMALL, True, _side:
            return _(
                "The blanket is %(is)s on its longer side; "
                "the receiver takes %(least)s or more: it is %(short)s short."
            )
        case _code, False, "shorter":
            return _(
                "The blanket would be %(is)s on its shorter side; "
                "the receiver takes %(most)s at most: it is %(over)s too much."
            )
        case _code, False, _side:
            return _(
                "The blanket would be %(is)s on its longer side; "
                "the receiver takes %(most)s at most: it is %(over)s too much."
            )
        case _code, True, "shorter":
            return _(
                "The blanket is %(is)s on its shorter side; "
                "the receiver takes %(most)s at most: it is %(over)s too much."
            )
        case _:
            return _(
                "The blanket is %(is)s on its longer side; "
                "the receiver takes %(most)s at most: it is %(over)s too much."
            )


def holes_detail(conflict: Conflict) -> str:
    facts: dict[str, Any] = dict(conflict.facts)
    if facts["finished"]:
        if facts["babies"]:
            return _(
                "The blanket has holes; the receiver takes none: fingers and tubes catch in them."
            )
        return _("The blanket has holes; the receiver takes none.")
    if facts["babies"]:
        return ngettext(
            "The layout leaves a hole at %(places)s; "
            "the receiver takes none: fingers and tubes catch in them.",
            "The layout leaves holes at %(places)s; "
            "the receiver takes none: fingers and tubes catch in them.",
            len(facts["places"]),
        )
    return ngettext(
        "The layout leaves a hole at %(places)s; the receiver takes none.",
        "The layout leaves holes at %(places)s; the receiver takes none.",
        len(facts["places"]),
    )


def asked_detail(conflict: Conflict) -> str:
    """What the finished blanket lacks, or nobody has said of it."""
    match conflict.code, bool(conflict.facts["told"]):
        case ConflictCode.NOT_WASHED, False:
            return _(
                "The receiver asks that the blanket be washed before it is given; "
                "nobody has said so of this one."
            )
        case ConflictCode.NOT_WASHED, True:
            return _(
                "The receiver asks that the blanket be washed before it is given; "
                "this one falls short."
            )
        case ConflictCode.SMOKE, False:
            return _(
                "The receiver asks that the blanket come from homes without smoke; "
                "nobody has said so of this one."
            )
        case ConflictCode.SMOKE, True:
            return _(
                "The receiver asks that the blanket come from homes without smoke; "
                "this one falls short."
            )
        case ConflictCode.PETS, False:
            return _(
                "The receiver asks that the blanket be free from pet hair; "
                "nobody has said so of this one."
            )
        case ConflictCode.PETS, True:
            return _(
                "The receiver asks that the blanket be free from pet hair; this one falls short."
            )
        case _code, False:
            return _(
                "The receiver asks that the blanket have a label with its fibres and care; "
                "nobody has said so of this one."
            )
        case _:
            return _(
                "The receiver asks that the blanket have a label with its fibres and care; "
                "this one falls short."
            )
