"""Receivers: what kinds there are, what blankets are for, and rules that contradict each other."""

from collections.abc import Iterator
from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Contradiction, Muddle, Rules, contradictions
from drives.craft.receivers.sizes import Use
from drives.craft.receivers.sources import Unpublished
from drives.craft.receivers.typical import ReceiverKind

from .fibres import fibre_name

RECEIVER_NAMES = {
    ReceiverKind.NEONATAL_UNIT: gettext_lazy("a neonatal unit"),
    ReceiverKind.CHILDRENS_WARD: gettext_lazy("a children’s ward"),
    ReceiverKind.REFUGE: gettext_lazy("a refuge"),
    ReceiverKind.CARE_HOME: gettext_lazy("a care home"),
    ReceiverKind.WHEELCHAIR_USERS: gettext_lazy("people in wheelchairs"),
}
USES = {
    Use.VERY_SMALL_PREMATURE: gettext_lazy("a very small premature baby"),
    Use.PREMATURE: gettext_lazy("a premature baby"),
    Use.NEONATAL_UNIT: gettext_lazy("a neonatal unit, at least"),
    Use.PRAM: gettext_lazy("a pram"),
    Use.RECEIVING: gettext_lazy("receiving a baby"),
    Use.COT: gettext_lazy("a cot"),
    Use.CHILD: gettext_lazy("a child"),
    Use.TEENAGER: gettext_lazy("a teenager"),
    Use.LAP: gettext_lazy("a lap, a wheelchair"),
    Use.THROW: gettext_lazy("a throw"),
}
UNPUBLISHED = {
    Unpublished.COMMON: gettext_lazy("common practice"),
    Unpublished.RECEIVER: gettext_lazy("who the receiver is"),
}


def kind_words(kind: str) -> str:
    """A kind of receiver; empty for none."""
    return str(RECEIVER_NAMES[ReceiverKind(kind)]) if kind else ""


def source_words(source: str) -> str:
    """A citation as it stands, or where there is none what it is instead."""
    return str(UNPUBLISHED[Unpublished(source)]) if source in tuple(Unpublished) else source


def told_wrongly(
    rules: Rules, told_by: str, told_on: date | None, today: date
) -> Iterator[tuple[str, str]]:
    """What cannot be as it is told: the field, empty for the rules as a whole, and why."""
    if bool(told_by) != bool(told_on):
        missing = "told_on" if told_by else "told_by"
        yield missing, _("Tell both who told them and when, or neither.")
    if told_on and told_on > today:
        yield "told_on", _("This day is still to come.")
    for contradiction in contradictions(rules):
        yield "", contradiction_words(contradiction)


def contradiction_words(found: Contradiction) -> str:
    match found.muddle, found.about:
        case Muddle.SIZES, "shorter":
            return _("The smallest size of the shorter side is larger than its largest.")
        case Muddle.SIZES, _side:
            return _("The smallest size of the longer side is larger than its largest.")
        case Muddle.FIBRE, fibre:
            both = _("The fibre “%(fibre)s” is both wanted and refused.")
            return both % {"fibre": fibre_name(Fibre(fibre))}
        case _:
            return _("A temperature or a cycle is told for a machine wash that is not asked.")
