"""What of a drive goes against its receiver's rules: one reading for pages, letters and sheets."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from drives.craft.blanket_rules import PlanFacts, finished_conflicts, plan_conflicts
from drives.craft.conflicts import Conflict, Length
from drives.craft.receivers import Rules
from drives.craft.words import English
from drives.craft.yarn_rules import yarn_conflicts
from drives.measures import length

from .blanket import Blanket
from .drive import Drive
from .gift import Gift
from .receiver import Overruling, Receiver
from .square import Square
from .yarn import Yarn


@dataclass(frozen=True)
class Check:
    """One conflict, of what (``subject`` as in ``Overruling``, ``title`` for people).

    ``overruled`` is the organiser's word that it does not count, if there is one.
    """

    subject: str
    title: str
    conflict: Conflict
    overruled: Overruling | None = None

    @property
    def key(self) -> tuple[str, str, str]:
        return self.subject, self.conflict.code, self.conflict.about


def rules_of(drive: Drive) -> Rules:
    """The receiver's rules, and what the drive itself says of its receiver: one query."""
    receiver = Receiver.objects.filter(drive=drive).first()
    rules = receiver.rules if receiver else Rules()
    if drive.for_babies and rules.for_babies is None:
        return replace(rules, for_babies=True)
    return rules


def drive_checks(drive: Drive, *, blanket: Blanket | None = None) -> list[Check]:
    """Everything of the drive, or of one of its blankets, that its receiver would refuse.

    Plans, finished blankets, and the yarns of the circle's store that the blankets' colours name;
    those overruled too. Queries: six, and two for each blanket whose plan is not yet known.
    """
    rules = rules_of(drive)
    blankets = [blanket] if blanket else list(drive.blankets.all())
    for each in blankets:
        each.drive = drive
    found = [*_plans(rules, blankets), *_gifts(rules, blankets)]
    found += yarn_checks(drive, rules, _named_by(blankets))
    return _with_overrulings(drive, found)


def yarn_checks(drive: Drive, rules: Rules, yarns: Iterable[Yarn]) -> list[Check]:
    """What the drive's receiver would refuse of these yarns; nothing is read."""
    english = English(drive.circle.english)
    return [
        Check(f"yarn {yarn.pk}", str(yarn), conflict)
        for yarn in yarns
        for conflict in yarn_conflicts(rules, yarn.facts, english)
    ]


def refusing(
    drives: Sequence[Drive], yarns: Sequence[Yarn]
) -> dict[int, list[tuple[Drive, Check]]]:
    """For each yarn, by its id, which drives' receivers refuse it, and why; overruled ones not."""
    found: dict[int, list[tuple[Drive, Check]]] = {yarn.pk: [] for yarn in yarns}
    for drive in drives:
        rules = rules_of(drive)
        for yarn in yarns:
            for check in _with_overrulings(drive, yarn_checks(drive, rules, [yarn])):
                if check.overruled is None:
                    found[yarn.pk].append((drive, check))
    return found


def _plans(rules: Rules, blankets: Sequence[Blanket]) -> Iterator[Check]:
    for blanket in blankets:
        facts = PlanFacts.of(blanket.plan().layout, float(blanket.gauge))
        for conflict in plan_conflicts(rules, facts, _length(blanket)):
            yield Check(f"plan {blanket.pk}", blanket.name, conflict)


def _gifts(rules: Rules, blankets: Sequence[Blanket]) -> Iterator[Check]:
    """Of a blanket that nobody has described yet nothing is asked."""
    by_id = {blanket.pk: blanket for blanket in blankets}
    for gift in Gift.objects.filter(blanket__in=by_id):
        blanket = by_id[gift.blanket_id]
        for conflict in finished_conflicts(rules, gift.facts, _length(blanket)):
            yield Check(f"blanket {blanket.pk}", blanket.name, conflict)


def _named_by(blankets: Sequence[Blanket]) -> list[Yarn]:
    if not blankets:
        return []
    squares = Square.objects.filter(blanket__in=blankets).exclude(colour="")
    names = squares.order_by().values("colour").distinct()
    return list(Yarn.objects.filter(circle=blankets[0].drive.circle, colour__in=names))


def _length(blanket: Blanket) -> Length:
    return partial(length, units=blanket.drive.circle.units)


def _with_overrulings(drive: Drive, found: list[Check]) -> list[Check]:
    said = {(each.subject, each.code, each.about): each for each in drive.overrulings.all()}
    return [
        replace(
            check, overruled=said.get((check.subject, check.conflict.code, check.conflict.about))
        )
        for check in found
    ]
