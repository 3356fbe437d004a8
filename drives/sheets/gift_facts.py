"""What is known of a finished blanket, in words: for its finishing list and its gift record."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from accounts.models import Circle
from drives import measures
from drives.actions.paper.kind import Asked
from drives.craft.fibre.care import care_lines
from drives.craft.fibre.fibres import fibres_line, parse
from drives.craft.knitter import English
from drives.craft.receivers.blanket_rules import PlanFacts
from drives.craft.receivers.cautions import BABIES
from drives.models import Blanket, Gift, told_care
from drives.readings.checks import cautions_of, rules_of
from drives.sheets.kind import minded


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


def gift_facts(blanket: Blanket, english: str = "") -> GiftFacts:
    """Two queries. ``english``: whose words, if not the circle's own."""
    drive = blanket.drive
    circle: Circle = drive.circle
    gift = Gift.objects.filter(blanket=blanket).first() or Gift(blanket=blanket)
    rules = rules_of(drive)
    minded = cautions_of(drive)
    plan = PlanFacts.of(blanket.plan().layout, float(blanket.gauge))
    return GiftFacts(
        for_babies=bool(rules.for_babies),
        planned=measures.size(plan.width, plan.height, circle.units),
        measured=_measured(gift, circle.units),
        fibres=_fibres(gift.fibres, English(english or circle.english)),
        care=_care(gift),
        cautions=[each.detail for each in minded],
        minding=[each.detail for each in minded if each not in BABIES],
        given_on=gift.given_on,
    )


def _measured(gift: Gift, units: str) -> str:
    if gift.width is None or gift.height is None:
        return ""
    return " × ".join(measures.fine(float(side), units) for side in (gift.width, gift.height))


def _fibres(told: str, english: English) -> str:
    return fibres_line(parse(told), english) if told else ""


def _care(gift: Gift) -> list[str]:
    told = told_care.read(gift.care)
    return [line for line, known in zip(care_lines(told), told, strict=True) if known]


def told_of_gift(asked: Asked) -> list[object]:
    """For a fingerprint: what was told of the gift, and who may be named as its makers."""
    blanket = asked.blanket
    makers = blanket.drive.circle.members.filter(knitted__blanket=blanket).distinct().order_by("pk")
    return [
        *minded(asked),
        list(Gift.objects.filter(blanket=blanket).values_list()),
        list(makers.values_list("pk", "name", "may_be_named")),
    ]
