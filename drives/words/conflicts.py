"""What goes against the receiver's rules: what is wrong, and what would mend it."""

from collections.abc import Callable
from typing import Any

from django.utils.translation import gettext as _

from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.conflicts import Conflict, ConflictCode
from shared.basics.lists import listed

from .conflicts_of_blankets import asked_detail, holes_detail, size_detail
from .fibres import fibre_name, share_of

Length = Callable[[float], str]
"""Says a length, given in cm, as the circle does."""

_LENGTHS = ("is", "least", "short", "most", "over")


def detail(conflict: Conflict, length: Length) -> str:
    """What is wrong, in a sentence or two."""
    wheels = conflict.facts.get("wheelchairs")
    more = _("Excess cloth catches in the wheels.") if wheels else ""
    return " ".join(filter(None, (_detail(conflict) % _told(conflict, length), more)))


def mend(conflict: Conflict) -> str:
    """What would mend it."""
    return _mend(conflict) % _told(conflict, str)


def _told(conflict: Conflict, length: Length) -> dict[str, Any]:
    """The facts as sentences have them."""
    told: dict[str, Any] = dict(conflict.facts)
    told |= {name: length(told[name]) for name in _LENGTHS if name in told}
    if "places" in told:
        told["places"] = listed(told["places"])
    if "share" in told:
        fibre = Fibre(conflict.about)
        told |= {"fibre": fibre_name(fibre), "share": share_of(fibre, told["share"])}
    if "wanted" in told:
        told["wanted"] = listed([fibre_name(Fibre(each)) for each in told["wanted"]])
    return told


def _detail(conflict: Conflict) -> str:
    facts = conflict.facts
    hot = facts.get("temperature") is not None
    match conflict.code:
        case ConflictCode.TOO_SMALL | ConflictCode.TOO_LARGE:
            return size_detail(conflict)
        case ConflictCode.HOLES:
            return holes_detail(conflict)
        case (
            ConflictCode.NOT_WASHED | ConflictCode.SMOKE | ConflictCode.PETS | ConflictCode.NO_LABEL
        ):
            return asked_detail(conflict)
        case ConflictCode.FRINGE:
            return _("The blanket has a fringe; the receiver takes none.")
        case ConflictCode.WASHED:
            return _(
                "The blanket has been washed; the receiver wants it as it comes off the needles."
            )
        case ConflictCode.FIBRES_UNKNOWN if "share" in facts:
            return _("“%(yarn)s” has %(share)s; the receiver asks which they are.")
        case ConflictCode.FIBRES_UNKNOWN:
            return _("Nobody knows what “%(yarn)s” is made of; the receiver asks for it.")
        case ConflictCode.HAIR_LIKE_WOOL:
            return _(
                "“%(yarn)s” has %(share)s; the receiver refuses wool, "
                "and has not said whether they take the hair of other animals."
            )
        case ConflictCode.FIBRE_REFUSED:
            return _("“%(yarn)s” has %(share)s; the receiver refuses it.")
        case ConflictCode.FIBRE_NOT_WANTED:
            return _("“%(yarn)s” has %(share)s; the receiver wants nothing but %(wanted)s.")
        case ConflictCode.WASHING_UNKNOWN if hot:
            return _(
                "Nobody has told how “%(yarn)s” is washed; "
                "the receiver washes in the machine at %(temperature)d °C."
            )
        case ConflictCode.WASHING_UNKNOWN:
            return _(
                "Nobody has told how “%(yarn)s” is washed; the receiver washes in the machine."
            )
        case ConflictCode.NOT_MACHINE_WASHABLE if hot:
            return _(
                "“%(yarn)s” cannot go into the washing machine; "
                "the receiver washes in the machine at %(temperature)d °C."
            )
        case ConflictCode.NOT_MACHINE_WASHABLE:
            return _(
                "“%(yarn)s” cannot go into the washing machine; the receiver washes in the machine."
            )
        case ConflictCode.WASHED_TOO_HOT:
            return _(
                "“%(yarn)s” is washed at %(stands)d °C at most; "
                "the receiver washes in the machine at %(temperature)d °C."
            )
        case ConflictCode.CYCLE_TOO_ROUGH if facts["mild"]:
            return _(
                "“%(yarn)s” is washed on a mild cycle; "
                "the receiver has not said that they wash so gently."
            )
        case ConflictCode.CYCLE_TOO_ROUGH:
            return _(
                "“%(yarn)s” is washed on a very mild cycle; "
                "the receiver’s machine washes more roughly."
            )
        case ConflictCode.WOOL_WASHED_HOT:
            return _(
                "“%(yarn)s” is %(animal)d %% wool, hair or silk, and is said to stand "
                "%(stands)d °C: even superwash wool seldom stands more than 40 °C."
            )
        case ConflictCode.NOT_WASHABLE:
            return _(
                "“%(yarn)s” must not be washed; "
                "the receiver asks that the blanket be washed before it is given."
            )
        case ConflictCode.DRYING_UNKNOWN:
            return _(
                "Nobody has told whether “%(yarn)s” can be tumble dried; the receiver does so."
            )
        case ConflictCode.NOT_TUMBLE_DRIED:
            return _("“%(yarn)s” must not be tumble dried; the receiver does so.")
        case ConflictCode.DYE_RUNS:
            return _("The dye of “%(yarn)s” runs in water; the blanket will be washed.")
        case ConflictCode.DYE_UNTESTED:
            return _("“%(yarn)s” is dark, and nobody has tried whether its dye stays in.")


def _mend(conflict: Conflict) -> str:
    finished = bool(conflict.facts.get("finished"))
    match conflict.code:
        case ConflictCode.TOO_SMALL if finished:
            return _(
                "Knit a border around it; or ask the receiver, "
                "or give it to a drive that takes this size."
            )
        case ConflictCode.TOO_SMALL:
            return _("Add columns or rows, take more stitches to a square, or a wider border.")
        case ConflictCode.TOO_LARGE if finished:
            return _(
                "Take off its border where it has one; or ask the receiver, "
                "or give it to a drive that takes this size."
            )
        case ConflictCode.TOO_LARGE:
            return _("Leave out columns or rows, take fewer stitches to a square, or less border.")
        case ConflictCode.HOLES if finished:
            return _("Close them: sew, or pick up and fill them.")
        case ConflictCode.HOLES:
            return _("Fill these places with squares, or let a larger square cover them.")
        case ConflictCode.FRINGE:
            return _("Take the fringe off and weave the ends in.")
        case ConflictCode.WASHED:
            return _("Tell the receiver, and ask whether they take it.")
        case ConflictCode.NOT_WASHED:
            return _("Wash it as its yarns allow, dry it, and say so here.")
        case ConflictCode.SMOKE:
            return _("Ask those who had it at home; wash and air it, or ask the receiver.")
        case ConflictCode.PETS:
            return _("Ask those who had it at home; take the hair off, wash it, and say so here.")
        case ConflictCode.NO_LABEL:
            return _("Sew a label on, or let the gift record go with it.")
        case ConflictCode.FIBRES_UNKNOWN:
            return _("Look at its band, or ask who gave it; until then keep it for another drive.")
        case ConflictCode.HAIR_LIKE_WOOL:
            return _("Ask the receiver whether they take it, and write the answer down here.")
        case ConflictCode.FIBRE_REFUSED:
            return _(
                "Take a yarn without %(fibre)s, or ask the receiver whether they make an exception."
            )
        case ConflictCode.FIBRE_NOT_WANTED:
            return _(
                "Take a yarn of %(wanted)s alone, "
                "or ask the receiver whether they make an exception."
            )
        case ConflictCode.WASHING_UNKNOWN:
            return _("Look at its band, or wash a swatch like that.")
        case ConflictCode.CYCLE_TOO_ROUGH:
            return _("Ask the receiver on which cycle they wash, or take a yarn that stands more.")
        case ConflictCode.WOOL_WASHED_HOT:
            return _("Look at its band again, or wash a swatch like that.")
        case ConflictCode.NOT_WASHABLE:
            return _("Take a yarn that can be, or ask the receiver whether they make an exception.")
        case ConflictCode.NOT_MACHINE_WASHABLE:
            return _("Take a yarn that can, or ask the receiver whether they make an exception.")
        case ConflictCode.WASHED_TOO_HOT:
            return _(
                "Take a yarn that stands it, or ask the receiver whether they make an exception."
            )
        case ConflictCode.DRYING_UNKNOWN:
            return _("Look at its band, or tumble dry a swatch.")
        case ConflictCode.NOT_TUMBLE_DRIED:
            return _("Take a yarn that can be, or ask the receiver whether they make an exception.")
        case ConflictCode.DYE_RUNS:
            return _(
                "Soak it until the water stays clear and try a swatch again, or take another yarn."
            )
        case ConflictCode.DYE_UNTESTED:
            return _("Soak a swatch on a white cloth before anybody knits with it.")
