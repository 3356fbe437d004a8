"""Forecasts as workers make them: the dates move with what happens, for reasons that are told."""

import json
from datetime import date, timedelta
from typing import Any

import pytest

from accounts.actions import remove_member
from accounts.models import Event
from drives.actions.circles import calendar
from drives.actions.drives.blankets import change_layout
from drives.actions.drives.drives import change_drive
from drives.actions.paper.kind import SheetKind
from drives.actions.paper.sheets import request_sheet
from drives.craft.layout.layout import Layout
from drives.models import Blanket, Claim, Mode, Sheet, Status
from drives.readings.foretold import Foretold, newest, read_foretold
from drives.sheets.foretell import foretell
from drives.sheets.kinds import FORECAST, PANELS
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.desk import DAY, NOW, SETTINGS, Desk, new_blanket, nothing_changes

TODAY = NOW.date()
SUPPOSED = {
    "wanted": None,
    "volunteers": 3,
    "pace": None,
    "hand_over_days": None,
    "meeting": None,
    "every": None,
}


def ask(desk: Desk, cast: Cast, at: timedelta = timedelta(), kind: SheetKind = FORECAST) -> Sheet:
    desk.blanket.refresh_from_db()
    options = SUPPOSED if kind == PANELS else {}
    return request_sheet(
        blanket=desk.blanket, by=cast.vera, kind=kind, options=options, now=NOW + at
    )


def forecast(desk: Desk, at: timedelta = timedelta()) -> Foretold:
    """What the worker would say at that moment, without waiting for it."""
    blanket = Blanket.objects.select_related("drive__circle").get(pk=desk.blanket.pk)
    sheet = Sheet(blanket=blanket, kind=FORECAST.code)
    made: Any = foretell(sheet, now=NOW + at, progress=lambda percent: None)
    told: Foretold = json.loads(json.dumps(made))
    return told


@pytest.fixture
def desk(cast: Cast) -> Desk:
    return Desk(new_blanket(cast.olga, Layout(3, 3, 20), deadline=TODAY + 60 * DAY))


@pytest.fixture
def travelling(cast: Cast) -> Desk:
    return Desk(new_blanket(cast.olga, Layout(3, 3, 20), mode=Mode.TRAVELLING))


def sure(told: Foretold) -> date:
    day = told["dates"]["sure"]
    assert day
    return date.fromisoformat(day)


def test_from_asking_to_the_answer(desk: Desk, cast: Cast) -> None:
    sheet = ask(desk, cast)
    seen: list[int] = []
    foretell(Sheet.objects.get(), now=NOW, progress=seen.append)
    assert seen == sorted(seen)
    assert 0 < seen[0] < seen[-1] < 100
    render_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    assert (sheet.status, sheet.progress) == (Status.DONE, 100)
    assert not sheet.file  # it lies in the row: pages that show it need nothing else
    made = newest(desk.blanket, FORECAST.code)
    assert made
    assert made.told == read_foretold(sheet)


def test_it_is_asked_for_once_and_not_noted(desk: Desk, cast: Cast) -> None:
    before = Event.objects.count()
    first = ask(desk, cast)
    with nothing_changes():
        assert ask(desk, cast, timedelta(hours=3)) == first
    assert Event.objects.count() == before


def test_whatever_it_depends_on_makes_another_one(desk: Desk, cast: Cast) -> None:
    seen = [ask(desk, cast)]

    def another(kind: SheetKind = FORECAST, at: timedelta = timedelta()) -> bool:
        seen.append(ask(desk, cast, at, kind))
        return seen[-1] not in seen[:-1]

    drive = desk.blanket.drive
    desk.claim("A1", cast.vera)
    assert another()
    absence = calendar.add_absence(
        member=cast.vera, first=TODAY, last=TODAY + DAY, by=cast.vera, now=NOW
    )
    assert another()
    calendar.drop_absence(absence=absence, by=cast.vera, now=NOW)
    assert not another()  # it is again as it was
    calendar.add_meeting(drive=drive, day=TODAY + DAY, by=cast.cora, now=NOW)
    assert another()
    change_drive(drive=drive, by=cast.olga, now=NOW, **(SETTINGS | {"mode": Mode.TRAVELLING}))
    assert another()
    other = Desk(new_blanket(cast.olga, Layout(1, 1, 20)))
    other.knit("A1", cast.paul)  # tells a pace
    assert another()
    assert another(PANELS)
    assert another(at=timedelta(hours=14))  # a day later


@pytest.mark.parametrize("kind", [FORECAST, PANELS])
def test_the_same_state_gives_the_same_bytes_all_day_long(
    desk: Desk, cast: Cast, kind: SheetKind
) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    sheet = Sheet.objects.select_related("blanket__drive__circle").get(pk=ask(desk, cast).pk)
    sheet.kind, sheet.options = kind.code, SUPPOSED
    made = [
        foretell(sheet, now=NOW + hours * timedelta(hours=1), progress=lambda percent: None)
        for hours in (0, 13)
    ]
    assert made[0] == made[1]


def test_dates_move_for_reasons_that_are_told(travelling: Desk, cast: Cast) -> None:
    desk = travelling
    begun = forecast(desk)
    assert (begun["finished"], begun["squares"], begun["never"]) == (0, 9, None)
    assert begun["rests_on"]["squares"] == 0

    # Squares come quicker than was guessed: the end comes nearer.
    for number, name in enumerate(("A1", "B1", "C1")):
        desk.claim(name, cast.vera, at=NOW + number * DAY)
        desk.finish(name, cast.vera, at=NOW + (number + 1) * DAY)
    quick = forecast(desk, 3 * DAY)
    assert (quick["finished"], quick["rests_on"]["squares"]) == (3, 3)
    assert sure(quick) < sure(begun)
    assert [each["finished"] for each in quick["so_far"]] == [0, 1, 2, 3]

    # Who has the piece goes away with a square on the needles: it comes later, and is told why.
    desk.claim("A2", cast.vera, at=NOW + 3 * DAY)
    before = forecast(desk, 3 * DAY)
    calendar.add_absence(
        member=cast.vera,
        first=TODAY + 3 * DAY,
        last=TODAY + 42 * DAY,
        by=cast.vera,
        now=NOW + 3 * DAY,
    )
    away = forecast(desk, 3 * DAY)
    assert sure(away) > sure(before) + 20 * DAY
    why = away["held_back"][0]
    assert (why["cause"], why["member"], why["away"]) == ("person", "Vera", True)
    assert all(each["member"] != "Vera" for each in before["held_back"][:1])


def test_a_piece_in_other_hands_is_named_as_the_board_does(travelling: Desk, cast: Cast) -> None:
    travelling.knit("A1 B1", cast.vera)
    causes = {each["cause"]: each for each in forecast(travelling)["held_back"]}
    assert causes["piece"]["piece"] == "A1"
    assert causes["hand-over"]["share"] > 0
    assert sum(each["share"] for each in causes.values()) == pytest.approx(1, abs=0.05)


def test_one_more_volunteer_and_one_more_panel_would_help(travelling: Desk, cast: Cast) -> None:
    made = forecast(travelling)
    panel = made["panel"]
    assert panel
    assert panel["sure"]
    assert date.fromisoformat(panel["sure"]) < sure(made)
    assert panel["panels"] == 2
    assert panel["sewing"] == pytest.approx(30)
    assert made["volunteer"]


def test_the_band_and_the_wanted_day_agree_with_the_dates(desk: Desk) -> None:
    made = forecast(desk)
    for each in made["ahead"]:
        assert each["low"] <= each["middle"] <= each["high"] <= 9
        assert (each["low"] == 9) == (date.fromisoformat(each["day"]) >= sure(made))
    kept = made["dates"]["kept"]
    assert kept is not None
    wanted = date.fromisoformat(made["wanted"] or "")
    assert (kept >= 0.9) == (sure(made) <= wanted)


def test_a_blanket_that_is_done_has_nothing_ahead(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(1, 1, 20)))
    desk.knit("A1", cast.vera)
    made = forecast(desk)
    assert (made["ahead"], made["held_back"]) == ([], [])
    assert (made["volunteer"], made["panel"]) == (None, None)
    assert sure(made) == TODAY


def test_without_anybody_who_knits_there_is_no_day(desk: Desk, cast: Cast) -> None:
    remove_member(member=cast.paul, by=cast.olga, now=NOW)
    for member in (cast.olga, cast.vera):
        member.is_volunteer, member.is_coordinator = False, True
        member.save(update_fields=["is_volunteer", "is_coordinator"])
    made = forecast(desk)
    assert made["never"] == "no-knitters"
    assert made["dates"] == {"half": None, "sure": None, "kept": 0.0}
    assert made["volunteer"]
    assert made["volunteer"]["sure"]


def test_after_a_cut_it_is_another_plan(travelling: Desk, cast: Cast) -> None:
    panel = forecast(travelling)["panel"]
    assert panel
    layout = travelling.blanket.layout_with(
        dict.fromkeys(travelling.blanket.plan().places, 1), panel["seams"]
    )
    change_layout(blanket=travelling.blanket, by=cast.olga, layout=layout, now=NOW)
    after = forecast(travelling)
    assert after["dates"]["sure"] == panel["sure"]


def test_proposals_for_panels(desk: Desk, cast: Cast) -> None:
    sheet = ask(desk, cast, kind=PANELS)
    seen: list[int] = []
    foretell(sheet, now=NOW, progress=seen.append)
    assert seen == sorted(set(seen))
    assert len(seen) < 20
    assert 90 < seen[-1] <= 95
    render_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    made = read_foretold(sheet)
    stands, *others = made["proposals"]
    assert (stands["along"], stands["bent"], stands["seams"]) == (None, False, [])
    assert ("columns", False, 2) in [
        (each["along"], each["bent"], each["panels"]) for each in others
    ]
    for each in others:
        assert each["sewing"] == pytest.approx(10 * len(each["seams"]))
        assert each["hand_overs"] == 0
    assert all(each["early"] <= each["half"] <= each["sure"] for each in made["proposals"])
    assert made["proposals"][0]["unbeaten"]


@pytest.mark.parametrize("days", [0.5, 5])
@pytest.mark.parametrize("held", [21, 26, 27, 400])
def test_a_square_that_is_held_long_moves_the_date_by_weeks_and_no_decades(
    cast: Cast, days: float, held: int
) -> None:
    """Twenty squares of the same days, one after the other; then one is not given back."""
    past = Desk(new_blanket(cast.olga, Layout(20, 1, 20), mode=Mode.TRAVELLING))
    begun = NOW - held * DAY - 20 * days * DAY
    for number, place in enumerate(past.blanket.plan().places):
        past.claim(str(place), cast.vera)
        past.finish(str(place), cast.vera)
        claim = Claim.objects.get(square=past.square(str(place)))
        Claim.objects.filter(pk=claim.pk).update(
            taken_at=begun + number * days * DAY,
            due_at=begun + (number + 20) * days * DAY,
            ended_at=begun + (number + 1) * days * DAY,
        )
    desk = Desk(new_blanket(cast.olga, Layout(2, 2, 20), mode=Mode.TRAVELLING))
    desk.claim("A1", cast.vera)
    Claim.objects.open().update(taken_at=NOW - held * DAY)
    assert sure(forecast(desk)) < TODAY + 30 * DAY + 4 * held * DAY


def test_one_more_volunteer_is_never_later_without_saying_who_keeps_the_piece(
    travelling: Desk, cast: Cast
) -> None:
    change_drive(
        drive=travelling.blanket.drive, by=cast.olga, now=NOW,
        **(SETTINGS | {"mode": Mode.TRAVELLING, "hand_over_days": 20}),
    )  # fmt: skip
    remove_member(member=cast.paul, by=cast.olga, now=NOW)
    cast.olga.is_volunteer, cast.olga.is_coordinator = False, True
    cast.olga.save(update_fields=["is_volunteer", "is_coordinator"])
    for number, name in enumerate(("A1", "B1", "C1")):
        travelling.claim(name, cast.vera, at=NOW + number * DAY)
        travelling.finish(name, cast.vera, at=NOW + (number + 1) * DAY)
    made = forecast(travelling, 3 * DAY)
    volunteer = made["volunteer"]
    assert volunteer
    assert volunteer["sure"]
    assert date.fromisoformat(volunteer["sure"]) <= sure(made)
    assert volunteer["kept_by"] == "Vera"


def test_the_soonest_way_to_pass_pieces_on_comes_first(travelling: Desk, cast: Cast) -> None:
    change_drive(
        drive=travelling.blanket.drive, by=cast.olga, now=NOW,
        **(SETTINGS | {"mode": Mode.TRAVELLING, "hand_over_days": 20}),
    )  # fmt: skip
    ways = forecast(travelling)["passing"]
    assert {way["passing"] for way in ways} == {"after-each", "keep", "meet"}
    assert [way["sure"] for way in ways] == sorted(way["sure"] or "" for way in ways)
    (keep,) = (way for way in ways if way["passing"] == "keep")
    assert ways.index(keep) < [way["now"] for way in ways].index(True)
    assert [way["passing"] for way in ways if way["now"]] == ["after-each"]
    change_drive(
        drive=travelling.blanket.drive, by=cast.olga, now=NOW,
        **(SETTINGS | {"mode": Mode.TRAVELLING, "hand_over_days": 20, "passing": "keep"}),
    )  # fmt: skip
    kept = forecast(travelling)
    assert kept["dates"]["sure"] == keep["sure"]
    assert [way["passing"] for way in kept["passing"] if way["now"]] == ["keep"]


def test_around_one_table_nothing_is_passed_on(desk: Desk) -> None:
    assert forecast(desk)["passing"] == []
