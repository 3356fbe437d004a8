"""Rows of earlier versions, brought to what they are now."""

from functools import cache
from importlib import import_module
from typing import Any

import pytest
from django.apps import apps
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.state import StateApps

from accounts.models import Event, Topic
from drives.actions.drives.rules import note_rules, overrule_conflict
from drives.craft.receivers.rules import Rules
from drives.models import Drive, Move, Sheet, Status
from drives.pages.common.log.line import event_line
from drives.readings.checks import drive_checks
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.store import new_yarn

in_the_log = import_module("drives.migrations.0006_conflicts_in_the_log")

codes_for_sentences = import_module("drives.migrations.0007_codes_for_sentences")

SIZE = {"is": 50, "least": 61, "short": 11}
LARGE = {"is": 105, "most": 92.5, "over": 12.5}
MOSS = {"yarn": "Moss (4711)"}
SENTENCES: list[tuple[str, str, str, dict[str, Any]]] = [
    (
        "The blanket would be 50 cm on its shorter side; the receiver takes 61 cm or more:"
        " it is 11 cm short.",
        *("too-small", "shorter", SIZE | {"finished": False}),
    ),
    (
        "The blanket is 50 cm on its longer side; the receiver takes 61 cm or more:"
        " it is 11 cm short.",
        *("too-small", "longer", SIZE | {"finished": True}),
    ),
    (
        "The blanket would be 20 in on its longer side; the receiver takes 17.5 in at most:"
        " it is 2.5 in too much. Excess cloth catches in the wheels.",
        *("too-large", "longer"),
        {"finished": False, "is": 50.8, "most": 44.45, "over": 6.35, "wheelchairs": True},
    ),
    (
        "The blanket is 105 cm on its shorter side; the receiver takes 92.5 cm at most:"
        " it is 12.5 cm too much.",
        *("too-large", "shorter", LARGE | {"finished": True, "wheelchairs": False}),
    ),
    (
        "The layout leaves a hole at B2, C3; the receiver takes none: fingers and tubes catch in"
        " them.",
        *("holes", "", {"finished": False, "places": ["B2", "C3"], "babies": True}),
    ),
    (
        "The blanket has holes; the receiver takes none.",
        *("holes", "", {"finished": True, "babies": False}),
    ),
    ("The blanket has a fringe; the receiver takes none.", "fringe", "", {}),
    (
        "The blanket has been washed; the receiver wants it as it comes off the needles.",
        *("washed", "", {}),
    ),
    (
        "The receiver asks that the blanket be washed before it is given; nobody has said so of"
        " this one.",
        *("not-washed", "", {"told": False}),
    ),
    (
        "The receiver asks that the blanket come from homes without smoke; this one falls short.",
        *("smoke", "", {"told": True}),
    ),
    (
        "The receiver asks that the blanket be free from pet hair; this one falls short.",
        *("pets", "", {"told": True}),
    ),
    (
        "The receiver asks that the blanket have a label with its fibres and care;"
        " nobody has said so of this one.",
        *("no-label", "", {"told": False}),
    ),
    (
        "Nobody knows what “Moss (4711)” is made of; the receiver asks for it.",
        *("fibres-unknown", "", MOSS),
    ),
    (
        "“Moss (4711)” has 20 % bamboo rayon; the receiver refuses it.",
        *("fibre-refused", "bamboo viscose", MOSS | {"share": 20}),
    ),
    (
        "“Moss (4711)” has 20 % wool; the receiver wants nothing but acrylic and nylon.",
        *("fibre-not-wanted", "wool", MOSS | {"share": 20, "wanted": ["acrylic", "polyamide"]}),
    ),
    (
        "Nobody has told how “Moss (4711)” is washed; the receiver washes in the machine.",
        *("washing-unknown", "", MOSS | {"temperature": None}),
    ),
    (
        "“Moss (4711)” cannot go into the washing machine; the receiver washes in the machine at"
        " 40 °C.",
        *("not-machine-washable", "", MOSS | {"temperature": 40}),
    ),
    (
        "“Moss (4711)” is washed at 40 °C at most; the receiver washes in the machine at 60 °C.",
        *("washed-too-hot", "", MOSS | {"temperature": 60, "stands": 40}),
    ),
    (
        "Nobody has told whether “Moss (4711)” can be tumble dried; the receiver does so.",
        *("drying-unknown", "", MOSS),
    ),
    (
        "“Moss (4711)” must not be tumble dried; the receiver does so.",
        *("not-tumble-dried", "", MOSS),
    ),
    (
        "The dye of “Moss (4711)” runs in water; the blanket will be washed.",
        *("dye-runs", "", MOSS),
    ),
    (
        "“Moss (4711)” is dark, and nobody has tried whether its dye stays in.",
        *("dye-untested", "", MOSS),
    ),
]


def old_event(cast: Cast, sentence: str, drive: int = 1) -> Event:
    """As the log had it."""
    facts = {"of": "Blanket", "conflict": sentence, "reason": "They take it."}
    return Event.objects.note(
        circle=cast.circle,
        by=cast.olga,
        verb="overruled",
        topic=Topic.DRIVE,
        topic_id=drive,
        facts=facts,
        at=NOW,
    )


@cache
def then() -> StateApps:
    """The models as the migration knows them."""
    loader = MigrationLoader(connection)
    return loader.project_state(("drives", "0006_conflicts_in_the_log")).apps


def migrated(event: Event) -> dict[str, Any]:
    """Its facts after the migration, which a second time changes nothing."""
    for _again in range(2):
        in_the_log.codes_and_facts(then(), connection.schema_editor())
    event.refresh_from_db()
    facts: dict[str, Any] = event.facts
    return facts


@pytest.mark.parametrize(("sentence", "code", "about", "facts"), SENTENCES)
def test_a_conflict_that_the_log_had_in_english_becomes_codes_and_facts(
    cast: Cast, sentence: str, code: str, about: str, facts: dict[str, Any]
) -> None:
    event = old_event(cast, sentence)
    assert migrated(event) == {
        "of": "Blanket",
        "reason": "They take it.",
        "subject": "",
        "code": code,
        "about": about,
        "facts": pytest.approx(facts) if "is" in facts else facts,
    }
    assert "overruled: “" in event_line(event, {})


def test_what_the_conflict_is_of_is_known_while_it_is_overruled(cast: Cast, desk: Desk) -> None:
    drive = desk.blanket.drive
    note_rules(drive=drive, by=cast.olga, now=NOW, rules=Rules(shorter_from=400))
    (check,) = drive_checks(Drive.objects.get(pk=drive.pk))
    overrule_conflict(drive=drive, by=cast.olga, check=check, reason="They take it.", now=NOW)
    assert migrated(old_event(cast, check.detail, drive.pk))["subject"] == f"plan {desk.blanket.pk}"


def test_a_sentence_that_nobody_can_read_any_more_is_shown_as_it_is(cast: Cast) -> None:
    event = old_event(cast, "It is not right.")
    assert migrated(event) == {
        "of": "Blanket", "reason": "They take it.", "said": "It is not right.",
    }  # fmt: skip
    assert event_line(event, {}) == (
        "Olga overruled: “It is not right.” (Blanket). The reason: They take it."
    )


def test_sentences_that_rows_had_become_codes(cast: Cast, desk: Desk) -> None:
    sheet = Sheet.objects.create(
        blanket=desk.blanket,
        kind="status",
        fingerprint="old",
        status=Status.FAILED,
        error="It took too long to make.",
        requested_by=cast.olga,
        requested_at=NOW,
    )
    move = new_yarn(cast.cora).moves.get()
    Move.objects.filter(pk=move.pk).update(note="from a file")
    codes_for_sentences.codes(apps, connection.schema_editor())
    sheet.refresh_from_db()
    move.refresh_from_db()
    assert (sheet.error, sheet.trouble) == ("too-slow", "It took too long to make.")
    assert (move.note, move.from_file) == ("", True)
