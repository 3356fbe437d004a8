"""Rotas as workers make them: counted back from the wanted day."""

import json
from datetime import date, timedelta
from typing import Any

import pytest

from drives.actions.circles import calendar
from drives.actions.drives.drives import change_drive
from drives.craft.layout.layout import Layout
from drives.craft.places import Place
from drives.models import Blanket, Sheet
from drives.readings.rota import Rota
from drives.sheets.foretell import foretell
from drives.sheets.kinds import ROTA
from tests.cast import Cast
from tests.desk import DAY, NOW, SETTINGS, Desk, new_blanket

TODAY = NOW.date()


def rota(desk: Desk, at: timedelta = timedelta()) -> Rota:
    blanket = Blanket.objects.select_related("drive__circle").get(pk=desk.blanket.pk)
    sheet = Sheet(blanket=blanket, kind=ROTA.code)
    made: Any = foretell(sheet, now=NOW + at, progress=lambda percent: None)
    told: Rota = json.loads(json.dumps(made))
    return told


def wanted(desk: Desk, cast: Cast, day: date | None) -> None:
    drive = desk.blanket.drive
    change_drive(drive=drive, by=cast.olga, now=NOW, **(SETTINGS | {"deadline": day}))


@pytest.fixture
def desk(cast: Cast) -> Desk:
    return Desk(new_blanket(cast.olga, Layout(3, 3, 20), deadline=TODAY + 60 * DAY))


def test_each_open_square_has_its_latest_days(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    told = rota(desk)
    starts = {each["place"]: each for each in told["starts"]}
    assert starts.keys() == {"C1", "A2", "B2", "C2", "A3", "B3", "C3"}
    for each in starts.values():
        assert each["half"]
        assert each["sure"]
        # What would be early enough in nine of ten plays may be over: little is known so far.
        assert each["sure"] <= each["half"]
        assert TODAY.isoformat() <= each["half"]
        assert each["half"] < told["wanted"]  # type: ignore[operator]
        assert each["slack"] is not None
    assert starts["C3"] == told["starts"][-1]  # it carries nothing
    for below, above in (("A2", "A3"), ("B2", "B3"), ("B2", "C2")):
        assert starts[below]["sure"] < starts[above]["sure"]  # type: ignore[operator]


def test_a_nearer_day_asks_for_more(desk: Desk, cast: Cast) -> None:
    wanted(desk, cast, TODAY + 120 * DAY)
    far = rota(desk)
    wanted(desk, cast, TODAY + 45 * DAY)
    near = rota(desk)
    assert far["speed"]
    assert near["speed"]
    assert far["speed"]["needed"] == pytest.approx(9 * 7 / 121, abs=0.01)
    assert near["speed"]["needed"] == pytest.approx(9 * 7 / 46, abs=0.01)
    slack = {each["place"]: each["slack"] for each in far["starts"]}
    for each in near["starts"]:
        before = slack[each["place"]]
        assert each["slack"] is not None
        assert before is not None
        assert each["slack"] == pytest.approx(before - 75, abs=1)
    assert far["kept"] is not None
    assert near["kept"] is not None
    assert near["kept"] < far["kept"]
    assert far["enough"]
    assert near["enough"]
    assert far["enough"]["half"] == 1  # who would need 45 days and the pauses between
    assert near["enough"]["half"] != 1  # none, if chance is against it
    assert (near["enough"]["now"], near["enough"]["most"]) == (3, 60)


def test_what_is_finished_tells_the_speed(desk: Desk, cast: Cast) -> None:
    for number, name in enumerate(("A1", "B1", "C1")):
        desk.claim(name, cast.vera, at=NOW + number * 5 * DAY)
        desk.finish(name, cast.vera, at=NOW + (number + 1) * 5 * DAY)
    told = rota(desk, 21 * DAY)["speed"]
    assert told
    assert (told["weeks"], told["now"]) == (3.0, 1.0)


def test_without_a_wanted_day_there_is_nothing_to_count_back_from(desk: Desk, cast: Cast) -> None:
    wanted(desk, cast, None)
    told = rota(desk)
    assert (told["wanted"], told["starts"], told["enough"], told["speed"]) == (None, [], None, None)
    assert told["assigned"]


def test_the_next_weeks_are_shared_out(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    told = rota(desk)["assigned"]
    until = {each["place"]: each["end"] for each in told}
    assert told == sorted(told, key=lambda each: each["begin"])
    assert len(until) == len(told)
    assert {"A1", "B1"}.isdisjoint(until)
    plan = desk.blanket.plan()
    for each in told:
        assert TODAY.isoformat() <= each["begin"] <= each["end"]
        assert each["begin"] <= (TODAY + 21 * DAY).isoformat()
        for support in map(str, plan.stands_on[Place.parse(each["place"])]):
            assert until.get(support, each["begin"]) <= each["begin"]
    assert {each["name"] for each in told} <= {"Olga", "Vera", "Paul"}
    assert told[0]["begin"] == TODAY.isoformat()
    by_name: dict[str, list[str]] = {}
    for each in told:
        assert each["begin"] >= max(by_name.get(each["name"], [""]))
        by_name.setdefault(each["name"], []).append(each["end"])


def test_who_is_away_gets_nothing_until_they_are_back(desk: Desk, cast: Cast) -> None:
    back = TODAY + 12 * DAY
    for member in (cast.olga, cast.vera, cast.paul):
        calendar.add_absence(member=member, first=TODAY, last=back - DAY, by=cast.olga, now=NOW)
    assert {each["begin"] for each in rota(desk)["assigned"]} >= {back.isoformat()}
    assert min(each["begin"] for each in rota(desk)["assigned"]) == back.isoformat()


def test_all_finished_leaves_nothing_to_share(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(1, 1, 20)))
    desk.knit("A1", cast.vera)
    assert rota(desk)["assigned"] == []


def test_a_day_that_is_over_can_be_kept_by_nobody(desk: Desk, cast: Cast) -> None:
    wanted(desk, cast, TODAY - DAY)
    told = rota(desk)
    assert told["kept"] == 0
    assert told["speed"]
    assert told["speed"]["needed"] is None
    assert told["enough"]
    assert (told["enough"]["half"], told["enough"]["sure"]) == (None, None)
    assert all(each["slack"] < 0 for each in told["starts"])  # type: ignore[operator]
