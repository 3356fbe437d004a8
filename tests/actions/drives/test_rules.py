"""Writing down what a receiver asks, and overruling a conflict with a reason."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from accounts.models import Event, Topic
from drives.actions.drives.rules import note_rules, overrule_conflict, uphold_conflict
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.models import Drive, Overruling, Receiver
from drives.readings.checks import Check, drive_checks, rules_of
from tests.cast import Cast
from tests.desk import NOW, Desk, new_drive, nothing_changes

RULES = Rules(
    shorter_from=90,
    longer_from=91.44,
    longer_to=152.4,
    wanted=frozenset({Fibre.ACRYLIC, Fibre.COTTON}),
    refused=frozenset({Fibre.WOOL}),
    machine_wash=True,
    temperature=40,
    fringe=False,
    holes=True,
)


def note(drive: Drive, cast: Cast, rules: Rules = RULES, **more: Any) -> Receiver:
    return note_rules(drive=drive, by=cast.olga, now=NOW, rules=rules, **more)


def told(drive: Drive) -> list[Event]:
    about = Event.objects.about(Topic.DRIVE, drive.pk)
    return list(about.exclude(verb="drive-made").order_by("pk"))


def found(drive: Drive) -> list[Check]:
    return drive_checks(Drive.objects.select_related("circle").get(pk=drive.pk))


def test_rules_come_back_as_they_were_told(cast: Cast) -> None:
    drive = new_drive(cast.olga)
    receiver = note(drive, cast, kind="care-home", country="GB")
    again = Drive.objects.get(pk=drive.pk)
    assert again.receiver.rules == rules_of(again) == RULES
    assert again.country == "GB"
    assert not receiver.confirmed
    (event,) = told(drive)
    assert (event.verb, event.by) == ("rules-noted", cast.olga)
    assert event.facts["refused"] == ["wool"]


def test_who_told_them_and_when_confirms_them(cast: Cast) -> None:
    drive = new_drive(cast.olga)
    note(drive, cast)
    receiver = note(drive, cast, told_by="the matron", told_on=date(2026, 11, 1))
    assert receiver.confirmed
    assert Receiver.objects.get() == receiver
    assert told(drive)[-1].facts["told_on"] == "2026-11-01"


def test_the_same_again_changes_nothing(cast: Cast) -> None:
    drive = new_drive(cast.olga)
    note(drive, cast, country="US")
    with nothing_changes():
        note(drive, cast, country="US")


@pytest.mark.parametrize("half", [{"told_by": "the matron"}, {"told_on": date(2026, 11, 1)}])
def test_half_a_confirmation_does_not_get_into_the_database(
    cast: Cast, half: dict[str, Any]
) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        note(new_drive(cast.olga), cast, **half)


def test_the_drives_own_word_on_babies_fills_in_where_the_receiver_said_nothing(cast: Cast) -> None:
    drive = new_drive(cast.olga, for_babies=True)
    assert rules_of(drive) == Rules(for_babies=True)
    note(drive, cast, RULES)
    assert rules_of(Drive.objects.get(pk=drive.pk)) == replace(RULES, for_babies=True)
    note(drive, cast, replace(RULES, for_babies=False))
    assert rules_of(Drive.objects.get(pk=drive.pk)).for_babies is False


def test_an_overruled_conflict_stays_with_its_reason_until_it_is_upheld(
    cast: Cast, desk: Desk
) -> None:
    drive = desk.blanket.drive
    note(drive, cast)
    short, long = found(drive)
    said = overrule_conflict(
        drive=drive, by=cast.olga, check=short, reason="They take it.", now=NOW
    )
    first, last = found(drive)
    assert (first.key, first.overruled) == (long.key, None)  # what counts comes first
    assert (last.key, last.overruled) == (short.key, said)
    assert told(drive)[-1].facts == {
        "of": "Blanket",
        "subject": f"plan {desk.blanket.pk}",
        "code": "too-small",
        "about": "shorter",
        "facts": short.conflict.facts,
        "reason": "They take it.",
    }
    assert uphold_conflict(drive=drive, by=cast.olga, check=last, now=NOW)
    assert {check.overruled for check in found(drive)} == {None}
    assert told(drive)[-1].verb == "upheld"


def test_a_second_word_on_it_changes_nothing(cast: Cast, desk: Desk) -> None:
    drive = desk.blanket.drive
    note(drive, cast)
    check = found(drive)[0]
    overrule_conflict(drive=drive, by=cast.olga, check=check, reason="They take it.", now=NOW)
    with nothing_changes():
        again = overrule_conflict(
            drive=drive, by=cast.cora, check=check, reason="I say so.", now=NOW
        )
    assert again.reason == "They take it."
    assert uphold_conflict(drive=drive, by=cast.olga, check=check, now=NOW)
    with nothing_changes():
        assert not uphold_conflict(drive=drive, by=cast.olga, check=check, now=NOW)


def test_another_drives_conflicts_are_not_touched(cast: Cast, desk: Desk) -> None:
    drive, other = desk.blanket.drive, new_drive(cast.olga)
    note(drive, cast)
    check = found(drive)[0]
    overrule_conflict(drive=other, by=cast.olga, check=check, reason="Elsewhere.", now=NOW)
    assert found(drive)[0].overruled is None
    assert not uphold_conflict(drive=drive, by=cast.olga, check=check, now=NOW)
    assert Overruling.objects.count() == 1


def test_no_reason_is_no_overruling(cast: Cast, desk: Desk) -> None:
    drive = desk.blanket.drive
    note(drive, cast)
    with pytest.raises(IntegrityError), transaction.atomic():
        overrule_conflict(drive=drive, by=cast.olga, check=found(drive)[0], reason="", now=NOW)
