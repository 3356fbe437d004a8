"""What of a drive goes against its receiver's rules: one reading for pages, API and sheets.

Where no rule was told nothing conflicts, and nothing is read. A drive that was read with its
receiver costs no query for the rules.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from drives.craft.layout.layout import Layout
from drives.craft.receivers.blanket_rules import PlanFacts, finished_conflicts, plan_conflicts
from drives.craft.receivers.cautions import Caution, in_use
from drives.craft.receivers.conflicts import Conflict
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.yarn_rules import yarn_conflicts
from drives.measures import length
from drives.models.blanket import Blanket
from drives.models.drive import Drive
from drives.models.gift import Gift
from drives.models.receiver import Overruling, Receiver
from drives.models.square import Square
from drives.models.yarn import Yarn
from drives.words.conflicts import detail, mend

NO_RULES_TOLD = Rules()


@dataclass(frozen=True)
class Check:
    """One conflict, of what (``subject`` as in ``Overruling``, ``title`` for people).

    ``units`` are those in which the circle tells lengths. ``overruled`` is the organiser's word
    that it does not count, if there is one.
    """

    subject: str
    title: str
    conflict: Conflict
    units: str
    overruled: Overruling | None = None

    @property
    def detail(self) -> str:
        """What is wrong, as the reader is told."""
        return detail(self.conflict, partial(length, units=self.units))

    @property
    def mend(self) -> str:
        """What would mend it, as the reader is told."""
        return mend(self.conflict)

    @property
    def of_yarn(self) -> bool:
        return self.subject.startswith("yarn ")

    @property
    def key(self) -> tuple[str, str, str]:
        return self.subject, self.conflict.code, self.conflict.about


def rules_of(drive: Drive) -> Rules:
    """The receiver's rules, and what the drive itself says of its receiver."""
    receiver: Receiver | None = getattr(drive, "receiver", None)
    rules = receiver.rules if receiver else NO_RULES_TOLD
    if drive.for_babies and rules.for_babies is None:
        return replace(rules, for_babies=True)
    return rules


def cautions_of(drive: Drive) -> tuple[Caution, ...]:
    """What is usually minded for those who get the drive's blankets."""
    rules = rules_of(drive)
    return in_use(
        drive.country,
        for_babies=bool(rules.for_babies),
        for_wheelchairs=bool(rules.for_wheelchairs),
    )


def drive_checks(
    drive: Drive, *, blanket: Blanket | None = None, whole_store: bool = False
) -> list[Check]:
    """Everything of the drive, or of one of its blankets, that its receiver would refuse.

    Plans, finished blankets, and the yarns of the circle's store: those that the blankets' colours
    name, or all. First what counts, then what is overruled. Queries: four at most, and two for
    each blanket whose plan is not yet known.
    """
    rules = rules_of(drive)
    if rules == NO_RULES_TOLD:
        return []
    blankets = [blanket] if blanket else list(drive.blankets.all())
    for each in blankets:
        each.drive = drive
    yarns = Yarn.objects.filter(circle=drive.circle_id)
    if not whole_store:
        squares = Square.objects.filter(blanket__in=blankets).exclude(colour="")
        yarns = yarns.filter(colour__in=squares.order_by().values("colour").distinct())
    gifts = {gift.blanket_id: gift for gift in Gift.objects.filter(blanket__in=blankets)}
    found = [
        check
        for each in blankets
        for check in (
            *_of_plan(rules, each, gifts.get(each.pk)),
            *_of_gift(rules, each, gifts.get(each.pk)),
        )
    ]
    return _with_overrulings(drive, found + yarn_checks(drive, rules, yarns))


def check_named(drive: Drive, key: tuple[str, str, str]) -> Check | None:
    """The one with this key (subject, code, about) of all of the drive; None if it is mended."""
    checks = drive_checks(drive, whole_store=True)
    return next((check for check in checks if check.key == key), None)


def checks_of_yarn(drives: Sequence[Drive], yarn: Yarn) -> list[tuple[Drive, Check]]:
    """What the drives' receivers would refuse of one yarn, overruled or not, drive by drive.

    One query, or none where no rule was told.
    """
    told = [drive for drive in drives if rules_of(drive) != NO_RULES_TOLD]
    return list(_of_yarn(told, yarn, _said(told))) if told else []


def plan_checks(
    drive: Drive,
    layout: Layout,
    gauge: float,
    *,
    border: int = 0,
    blanket: Blanket | None = None,
) -> list[Check]:
    """What the receiver would refuse of a layout; ``gauge`` and ``border`` as in ``PlanFacts``.

    ``blanket``: whose layout it may become, if it is there already.
    """
    facts = PlanFacts.of(layout, gauge, border)
    subject, title = (f"plan {blanket.pk}", blanket.name) if blanket else ("plan", "")
    found = [
        Check(subject, title, conflict, drive.circle.units)
        for conflict in plan_conflicts(rules_of(drive), facts)
    ]
    return _with_overrulings(drive, found) if blanket else found


def colour_checks(
    drives: Iterable[Drive], colours: Iterable[str]
) -> dict[tuple[int, str], list[Check]]:
    """What receivers would refuse of the store's yarns, by the drive's id and the colour.

    Two queries, or none where no rule was told.
    """
    told = {drive.pk: drive for drive in drives if rules_of(drive) != NO_RULES_TOLD}
    names = set(colours) - {""}
    if not told or not names:
        return {}
    circles = {drive.circle_id for drive in told.values()}
    said = _said(told.values())
    found: dict[tuple[int, str], list[Check]] = defaultdict(list)
    for yarn in Yarn.objects.filter(circle__in=circles, colour__in=names):
        for drive in told.values():
            if drive.circle_id == yarn.circle_id:
                checks = yarn_checks(drive, rules_of(drive), [yarn])
                found[drive.pk, yarn.colour] += _with(drive, checks, said)
    return found


def yarn_checks(drive: Drive, rules: Rules, yarns: Iterable[Yarn]) -> list[Check]:
    """What the drive's receiver would refuse of these yarns; nothing else is read."""
    return [
        Check(f"yarn {yarn.pk}", str(yarn), conflict, drive.circle.units)
        for yarn in yarns
        for conflict in yarn_conflicts(rules, yarn.facts)
    ]


def refusing(
    drives: Iterable[Drive], yarns: Sequence[Yarn]
) -> dict[int, list[tuple[Drive, Check]]]:
    """For each yarn, by its id, which drives' receivers refuse it, and why; overruled ones not.

    One query, or none where no rule was told.
    """
    told = [drive for drive in drives if rules_of(drive) != NO_RULES_TOLD]
    said = _said(told)
    return {
        yarn.pk: [
            (drive, check) for drive, check in _of_yarn(told, yarn, said) if check.overruled is None
        ]
        for yarn in yarns
    }


def _of_plan(rules: Rules, blanket: Blanket, gift: Gift | None) -> Iterator[Check]:
    """But for what the finished blanket tells by itself: it is too late to plan that otherwise."""
    facts = PlanFacts.of(blanket.plan().layout, float(blanket.gauge))
    measured = gift is not None and None not in (gift.width, gift.height)
    looked_at = gift is not None and gift.holes is not None
    for conflict in plan_conflicts(rules, facts):
        if not (looked_at if conflict.code == "holes" else measured):
            yield Check(f"plan {blanket.pk}", blanket.name, conflict, blanket.drive.circle.units)


def _of_gift(rules: Rules, blanket: Blanket, gift: Gift | None) -> Iterator[Check]:
    """Of a blanket that nobody has described yet nothing is asked."""
    if gift is not None:
        for conflict in finished_conflicts(rules, gift.facts):
            yield Check(f"blanket {blanket.pk}", blanket.name, conflict, blanket.drive.circle.units)


_Said = Mapping[tuple[int, str, str, str], Overruling]


def _said(drives: Iterable[Drive]) -> _Said:
    """The organisers' words, by drive and conflict."""
    said = Overruling.objects.filter(drive__in=drives).select_related("by")
    return {(each.drive_id, each.subject, each.code, each.about): each for each in said}


def _of_yarn(told: Iterable[Drive], yarn: Yarn, said: _Said) -> Iterator[tuple[Drive, Check]]:
    for drive in told:
        for check in _with(drive, yarn_checks(drive, rules_of(drive), [yarn]), said):
            yield drive, check


def _with(drive: Drive, found: list[Check], said: _Said) -> list[Check]:
    """With the organiser's word on each; what counts comes first."""
    checks = [replace(check, overruled=said.get((drive.pk, *check.key))) for check in found]
    return sorted(checks, key=lambda check: check.overruled is not None)


def _with_overrulings(drive: Drive, found: list[Check]) -> list[Check]:
    return _with(drive, found, _said([drive])) if found else []
