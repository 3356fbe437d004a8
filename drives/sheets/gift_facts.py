"""What is known of a finished blanket, in words: for its finishing list and its gift record."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from accounts.models import Circle
from drives import measures
from drives.actions.paper.kind import Asked
from drives.craft.receivers.blanket_rules import PlanFacts
from drives.craft.receivers.cautions import FOR_BABIES
from drives.models import Blanket, Gift, told_care
from drives.readings.checks import cautions_of, rules_of
from drives.sheets.kind import minded
from drives.words.care import care_lines
from drives.words.cautions import caution_words
from drives.words.fibres import fibres_line, read_fibres


@dataclass(frozen=True)
class GiftFacts:
    """Empty where nobody has told. ``care``: a sentence for each treatment that was told.

    ``cautions`` are for who finishes the blanket, ``minding`` those of them that its receiver
    must know.
    """

    for_babies: bool
    planned: str
    measured: str
    fibres: str
    care: Sequence[str]
    cautions: Sequence[str]
    minding: Sequence[str]
    given_on: date | None


def gift_facts(blanket: Blanket) -> GiftFacts:
    """Two queries."""
    drive = blanket.drive
    circle: Circle = drive.circle
    gift = Gift.objects.filter(blanket=blanket).first() or Gift(blanket=blanket)
    rules = rules_of(drive)
    cautions = cautions_of(drive)
    told = (each for each in cautions if each not in FOR_BABIES)
    plan = PlanFacts.of(blanket.plan().layout, float(blanket.gauge))
    return GiftFacts(
        for_babies=bool(rules.for_babies),
        planned=measures.size(plan.width, plan.height, circle.units),
        measured=_measured(gift, circle.units),
        fibres=fibres_line(read_fibres(gift.fibres)) if gift.fibres else "",
        care=care_lines(told_care.read_care(gift.care)),
        cautions=[each.detail for each in caution_words(*cautions)],
        minding=[each.detail for each in caution_words(*told)],
        given_on=gift.given_on,
    )


def _measured(gift: Gift, units: str) -> str:
    if gift.width is None or gift.height is None:
        return ""
    return " × ".join(measures.fine(float(side), units) for side in (gift.width, gift.height))


def told_of_gift(asked: Asked) -> list[object]:
    """For a fingerprint: what was told of the gift, and who may be named as its makers."""
    blanket = asked.blanket
    makers = blanket.drive.circle.members.filter(knitted__blanket=blanket).distinct().order_by("pk")
    return [
        *minded(asked),
        list(Gift.objects.filter(blanket=blanket).values_list()),
        list(makers.values_list("pk", "name", "may_be_named")),
    ]
