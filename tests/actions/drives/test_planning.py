"""Making drives and blankets, and colouring squares."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from accounts.models import Event
from drives.actions.colours.by_hand import colour_squares
from drives.actions.drives.blankets import plan_blanket
from drives.actions.drives.drives import change_drive
from drives.craft.layout.layout import InvalidLayout, Large, Layout, Mitre, Seam
from drives.craft.places import Place
from drives.models import Blanket
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, REST_OF_DAY, SETTINGS, new_drive, nothing_changes, places


def test_a_drive_is_stored_with_its_settings_and_one_event(cast: Cast) -> None:
    drive = new_drive(cast.olga, deadline=date(2027, 1, 31), claim_days=10)
    assert (drive.circle, drive.deadline, drive.claim_days) == (
        cast.olga.circle,
        date(2027, 1, 31),
        10,
    )
    event = Event.objects.get(topic="drive", topic_id=drive.pk)
    assert (event.verb, event.by, event.facts) == (
        "drive-made",
        cast.olga,
        {"name": "Warm laps"},
    )


def test_changing_a_drive_tells_what_changed_once(cast: Cast, plan: Plan) -> None:
    drive = plan().blanket.drive
    wanted: Any = SETTINGS | {"claim_limit": 5, "name": "Warmer laps"}
    change_drive(drive=drive, by=cast.olga, now=NOW, **wanted)
    event = Event.objects.get(verb="drive-changed")
    assert event.facts == {"changed": ["name", "claim_limit"]}
    with nothing_changes():
        change_drive(drive=drive, by=cast.olga, now=NOW, **wanted)


def test_claims_already_made_keep_their_due_dates(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    wanted: Any = SETTINGS | {"claim_days": 3}
    change_drive(drive=desk.blanket.drive, by=cast.olga, now=NOW, **wanted)
    claim.refresh_from_db()
    assert claim.due_at == NOW + 14 * DAY + REST_OF_DAY
    assert desk.claim("A1", cast.vera) == claim


def test_a_planned_blanket_is_its_layout(cast: Cast) -> None:
    layout = Layout(
        columns=5,
        rows=4,
        stitches=18,
        mitre=Mitre.CENTRED,
        missing=frozenset(places("A4 E1")),
        large=frozenset({Large(Place.parse("B2"), 2)}),
        seams=frozenset({Seam(*places("D1 D2"))}),
        corner_trade=False,
    )
    blanket = plan_blanket(
        drive=new_drive(cast.olga),
        by=cast.olga,
        name="Blanket",
        gauge=Decimal("19.5"),
        layout=layout,
        now=NOW,
    )
    stored = Blanket.objects.get()
    assert stored.layout() == layout
    assert (stored.gauge, stored.layout_version) == (Decimal("19.5"), 1)
    assert {square.place for square in stored.squares.all()} == set(blanket.plan().places)
    event = Event.objects.get(verb="planned")
    assert (event.by, event.topic, event.topic_id, event.facts) == (
        cast.olga,
        "blanket",
        stored.pk,
        {"name": "Blanket", "columns": 5, "rows": 4, "squares": 15},
    )


def test_a_layout_that_cannot_be_knitted_stores_nothing(cast: Cast) -> None:
    drive = new_drive(cast.olga)
    layout = Layout(2, 2, 20, missing=frozenset(places("C9")))
    with nothing_changes(), pytest.raises(InvalidLayout, match="missing-outside"):
        plan_blanket(
            drive=drive,
            by=cast.olga,
            name="Blanket",
            gauge=Decimal(20),
            layout=layout,
            now=NOW,
        )


def test_colours_are_given_and_taken_away(cast: Cast, plan: Plan) -> None:
    desk = plan()
    a1, b1, b2 = places("A1 B1 B2")
    wanted = {a1: "moss", b1: "rust", Place.parse("F9"): "plum"}
    assert colour_squares(blanket=desk.blanket, by=cast.olga, colours=wanted, now=NOW) == [
        a1,
        b1,
    ]
    assert desk.events()[-1].facts == {"squares": 2, "colours": ["moss", "rust"]}
    with nothing_changes():
        colour_squares(blanket=desk.blanket, by=cast.olga, colours=wanted, now=NOW)
    colour_squares(blanket=desk.blanket, by=cast.olga, colours={a1: "", b2: ""}, now=NOW)
    assert [square.colour for square in desk.blanket.squares.all()] == ["", "rust", "", ""]
