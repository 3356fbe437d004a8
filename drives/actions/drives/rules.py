"""Writing down what a receiver asks, and overruling it with a reason."""

from datetime import date, datetime
from typing import Any

from accounts.models import Member
from drives.actions.locks import hold_drive
from drives.actions.log import note_drive
from drives.craft.receivers.rules import Rules
from drives.models import Drive, Overruling, Receiver
from drives.models.receiver import stored_rules
from drives.readings.checks import Check
from shared.basics.changes import save_changed, set_changed
from shared.basics.transactions import writing


def note_rules(
    *,
    drive: Drive,
    by: Member,
    now: datetime,
    rules: Rules,
    kind: str = "",
    country: str = "",
    told_by: str = "",
    told_on: date | None = None,
) -> Receiver:
    """The receiver's rules as told by ``told_by`` on ``told_on``; typical ones without these two.

    What is the same as before changes nothing.
    """
    with writing():
        drive = hold_drive(drive)
        said = {"told": stored_rules(rules), "kind": kind, "told_by": told_by, "told_on": told_on}
        moved = save_changed(drive, {"country": country})
        receiver = Receiver.objects.filter(drive=drive).first()
        if receiver is None:
            receiver = Receiver.objects.create(drive=drive, noted_by=by, **said)
        elif (changed := set_changed(receiver, said)) or moved:
            receiver.noted_by = by
            receiver.save(update_fields=[*changed, "noted_by"])
        else:
            return receiver
        day = told_on.isoformat() if told_on else ""
        note_drive(
            drive, by, "rules-noted", now, told_by=told_by, told_on=day, **stored_rules(rules)
        )
    return receiver


def overrule_conflict(
    *, drive: Drive, by: Member, check: Check, reason: str, now: datetime
) -> Overruling:
    """The conflict does not count, for a ``reason`` that stays in the log.

    Again: the first reason stays.
    """
    conflict = check.conflict
    with writing():
        said, new = Overruling.objects.get_or_create(
            drive=drive,
            subject=check.subject,
            code=conflict.code,
            about=conflict.about,
            defaults={"reason": reason, "by": by, "at": now},
        )
        if new:
            note_drive(drive, by, "overruled", now, reason=reason, **_facts(check))
    return said


def uphold_conflict(*, drive: Drive, by: Member, check: Check, now: datetime) -> bool:
    """The conflict counts again; False when it did already."""
    subject, code, about = check.key
    with writing():
        said = Overruling.objects.filter(drive=drive, subject=subject, code=code, about=about)
        gone, _rows = said.delete()
        if gone:
            note_drive(drive, by, "upheld", now, **_facts(check))
    return gone > 0


def _facts(check: Check) -> dict[str, Any]:
    """The conflict for the log, which says it anew to each reader."""
    conflict = check.conflict
    return {
        "of": check.title,
        "subject": check.subject,
        "code": conflict.code,
        "about": conflict.about,
        "facts": dict(conflict.facts),
    }
