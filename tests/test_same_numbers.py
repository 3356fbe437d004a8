"""The page, the paper and the API tell the same numbers of the demo's blankets.

The numbers of the API are put into words, and these must stand on the page and in the PDF.
"""

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil, floor
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db import transaction
from django.test import override_settings
from django.utils import timezone, translation
from django.utils.formats import date_format
from pytest_django import DjangoDbBlocker

from accounts.models import Circle, Member, Role, Units
from drives import measures
from drives.actions.paper.sheets import request_sheet
from drives.craft.numbers.ranges import Range
from drives.models import Blanket, Claim, Options
from drives.readings.board import board_of
from drives.sheets.kinds import CARDS, FINISHING, FORECAST, MEETING, PANELS, ROTA, STATUS
from drives.sheets.suggestions import Meant
from drives.sheets.tasks import render_sheet
from drives.words.panels import share_line
from tests.api.conftest import Api
from tests.pages.conftest import Reader
from tests.sheets.paper import Printed

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def demo(
    django_db_setup: None,
    django_db_blocker: DjangoDbBlocker,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[None]:
    """The demo, once for all of these tests."""
    logins: Path = tmp_path_factory.mktemp("demo") / "logins.txt"
    with django_db_blocker.unblock(), transaction.atomic():
        with override_settings(LOGINS_FILE=logins):
            call_command("demo", verbosity=0)
        yield
        transaction.set_rollback(True)


class Told:
    """One blanket as its organiser reads it, everywhere."""

    def __init__(self, columns: int, units: str) -> None:
        self.blanket = Blanket.objects.select_related("drive__circle").get(
            columns=columns, rows__gt=5
        )
        self.units = units
        Circle.objects.filter(pk=self.blanket.drive.circle_id).update(units=units)
        members = Member.objects.filter(circle=self.blanket.drive.circle_id, user__isnull=False)
        self.me = next(member for member in members if Role.ORGANISER in member.roles)
        self._api, self._pages = Api(self.me.user), Reader(self.me.user)

    def api(self, rest: str = "", **asked: Any) -> Any:
        answer = self._api.get(f"blankets/{self.blanket.pk}/{rest}", **asked)
        assert answer.status_code == 200
        return answer.json()

    def page(self, rest: str = "", **asked: Any) -> str:
        return self._pages.read(f"/blankets/{self.blanket.pk}/{rest}", asked)

    def ask(self, rest: str, **body: Any) -> None:
        address = f"blankets/{self.blanket.pk}/{rest}"
        assert self._api.post(address, body or None).status_code == 202

    def day(self, told: str, today: str = "") -> str:
        """With its year, unless that is the one of ``today``."""
        form = "MONTH_DAY_FORMAT" if told[:4] == today[:4] else "LONG_DATE_FORMAT"
        with translation.override(self.blanket.drive.circle.locale):
            return date_format(date.fromisoformat(told), form)

    def sizes_page(self, **asked: Any) -> str:
        return self._pages.read(f"/drives/{self.blanket.drive_id}/plan/", asked)

    def sizes(self, **body: Any) -> Any:
        return self._api.post("plan/sizes/", body).json()["sizes"]

    def paper(self, kind: Any, **chosen: Any) -> str:
        sheet = request_sheet(
            kind=kind,
            blanket=Blanket.objects.select_related("drive__circle").get(pk=self.blanket.pk),
            by=self.me,
            options=Options(**chosen).stored(),
            now=timezone.now(),
        )
        return Printed(sheet, sheet.requested_at).words


@pytest.fixture(params=[(12, Units.CM), (6, Units.CM), (6, Units.INCH)], ids=str)
def told(request: pytest.FixtureRequest, demo: None) -> Told:
    """A lap blanket that is half knitted; one in two halves with a large and a missing square."""
    return Told(*request.param)


@pytest.fixture
def lap(demo: None) -> Told:
    return Told(12, Units.CM)


def test_how_far_it_is(told: Told) -> None:
    squares = told.api()["squares"]
    finished, every = squares["finished"], sum(squares.values())

    assert f"{finished} of {every} squares" in told.page()
    assert f"{finished} of {every} squares" in told.paper(FINISHING)
    assert f"{finished} of {every}" in told.paper(STATUS)


def test_what_it_takes(told: Told) -> None:
    takes = told.api("needs/", border=3, minutes=[40, 45.5])
    page = told.page("takes/", border="3", minutes="40 45.5")
    paper = told.paper(FINISHING)

    hours = measures.between(Range(takes["hours"]["low"], takes["hours"]["high"]))
    edges, size, plain = takes["border"], takes["size"], told.api("needs/")["size"]
    with_border, without = (
        measures.size(each["width"], each["height"], told.units) for each in (size, plain)
    )
    for words in (
        f"Squares {takes['squares']} ",
        f"{takes['stitches']:,} in all squares together",
        f"{hours} with weaving in. It rests on {takes['hours']['by_clock']} squares by the clock",
        f"Pick up {edges['bottom']} along the bottom, {edges['right']} along the right side,",
        f"{edges['top']} along the top and {edges['left']} along the left side,",
        f"in each of the {edges['corners']} corners: {edges['total']} together.",
        f"With its 3 ridges the blanket measures {with_border}.",
        f"Size {without}",
    ):
        assert words in page
    left = takes["finishing"]
    assert f"At least {left['ends']}, two for each of the {takes['squares']} squares" in paper
    assert f"At most {left['markers']} markers were in use" in paper
    assert f"Planned: {without}, without a border." in paper
    seams = f"{left['seams']} edges, each of one square’s length, are seams"
    assert (seams in paper) is bool(left["seams"])


def test_the_sizes_near_a_wish(lap: Told) -> None:
    found = lap.sizes(width=90, height=120, gauge=20, at_least=True, border=4)
    wish = {"width": 90, "height": 120, "gauge": 20, "at_least": "on", "border": 2, "units": "cm"}
    page = lap.sizes_page(**wish)

    assert page.count("Stitches a side") == len(found) == 6
    for size in found:
        gives = measures.size(size["width"], size["height"], "cm")
        assert (
            f"{size['columns']} across, {size['rows']} up Squares {size['squares']} "
            f"Stitches a side {size['stitches']} Border 4 ridges Gives {gives} with its border"
        ) in page


def test_what_becomes_of_each_colour(told: Told) -> None:
    seen, page = told.api("colours/"), told.page("colours/")

    assert len(seen["colours"]) >= 3
    for each in seen["colours"]:
        takes = each["needs"]
        needs = measures.weight(Range(**takes), told.units) if takes else "–"
        there = "brought along"
        if each["there"] is not None:
            there = measures.weighed(each["there"], told.units)
        if each["suffices_for"] is not None:
            there += f" for {each['suffices_for']} square"
        assert (
            f"{each['name']} {each['planned']} Which: {each['name']} {', '.join(each['places'])} "
            f"{each['knitted']} {each['left']} {needs} {there}"
        ) in page
    assert sum(each["planned"] for each in seen["colours"]) + seen["bare"] == sum(
        told.api()["squares"].values()
    )


def test_the_dye_lot_of_each_square(lap: Told) -> None:
    seen = lap.api("yarn/")["colours"]
    lots = {
        each["colour"]: [lot["squares"] for lot in each["lots"]] for each in seen if each["way"]
    }
    assert {name: all(squares) for name, squares in lots.items()} == {"cream": True, "slate": True}
    square = next(
        each
        for each in lap.api("squares/", page_size=1000)["results"]
        if each["colour"] in lots and each["state"] != "finished" and each["lot"]
    )
    words = f"{square['colour']}, Dye lot {square['lot']['dye_lot']}"
    assert words in lap.page(f"squares/{square['place']}/")
    assert words in lap.paper(CARDS, places=(square["place"],))


def test_the_yarn_that_it_takes(told: Told) -> None:
    seen, page = told.api("yarn/"), told.page("yarn/")

    for each in seen["colours"]:
        if each["takes"]:
            takes = measures.weight(Range(**each["takes"]), told.units)
            assert re.search(rf"{each['colour']} {each['left']} (\(.+?\) )?{takes}[ ,]", page)
        if each["needs"] is not None:
            needs, there = (
                measures.balance_line(grams, told.units)
                for grams in (ceil(each["needs"]), floor(each["there"]))
            )
            assert f"{each['colour']} {needs} {there} " in page
            for lot in each["lots"]:
                if lot["to_come"]:
                    weight = measures.balance_line(lot["to_come"], told.units)
                    assert f"Dye lot {lot['dye_lot']}: {weight} in the plan" in page
    if (postage := seen["wishes"]["postage"]) is not None:
        sums = (seen["cost"], postage, seen["total_cost"])
        balls, parcel, total = (
            " ".join(measures.money(each, seen["currency"]).split()) for each in sums
        )
        assert f"Cost of the yarn to buy {balls} Postage for the parcel {parcel}" in page
        assert f"With postage {total}" in page
    if seen["weighs"]:
        weighs = measures.weight(Range(**seen["weighs"]), told.units)
        assert f"The finished blanket weighs {weighs}" in page


@pytest.mark.usefixtures("own_files")
def test_when_it_is_finished(lap: Told) -> None:
    lap.ask("forecast/")
    sheet = lap.blanket.sheets.get(kind=FORECAST.code)
    with transaction.atomic():
        render_sheet(sheet_id=sheet.pk)
    seen, page = lap.api("forecast/"), lap.page("forecast/")

    assert f"{seen['finished']} of {seen['squares']} squares are finished." in page
    assert f"was played through {seen['runs']} times" in page
    half, sure = (lap.day(seen["dates"][name], seen["today"]) for name in ("half", "sure"))
    assert f"It will be finished by {half} with 50 %, by {sure} with 90 %." in page
    ahead = [
        (lap.day(each["day"]), str(each["low"]), str(each["middle"]), str(each["high"]))
        for each in seen["ahead"]
    ]
    shown = re.findall(r"(\d+ \w+ \d{4}) (\d+) (\d+) (\d+)", page)  # some of the days
    assert len(shown) > 5
    assert set(shown) <= set(ahead)


@pytest.mark.usefixtures("own_files")
def test_who_begins_what_by_when(lap: Told) -> None:
    """By the rota, of which one line is changed by a coordinator since it was worked out."""
    lap.ask("rota/")
    with transaction.atomic():
        render_sheet(sheet_id=lap.blanket.sheets.get(kind=ROTA.code).pk)
    ready = {each["place"] for each in lap.api("squares/", state="ready")["results"]}
    # The meeting list proposes nothing to those who have enough in hand.
    drive = lap.blanket.drive
    held = Claim.objects.open().filter(square__blanket__drive=drive)
    in_hand = Counter(held.values_list("member__name", flat=True))
    full = {name for name, count in in_hand.items() if count >= drive.claim_limit}
    knitters = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    somebody = knitters.exclude(name__in=full).filter(absences=None).earliest("name")
    line = {"place": min(ready), "member": somebody.pk}
    begin = (timezone.localdate() + timedelta(days=1)).isoformat()
    body = line | {"begin": begin}
    assert lap._api.post(f"blankets/{lap.blanket.pk}/rota/accept/", body).status_code == 200
    seen, page, paper = lap.api("rota/"), lap.page("rota/"), lap.paper(MEETING)

    assert len(seen["assigned"]) > 5
    for each in seen["assigned"]:
        days = " ".join(lap.day(each[name], seen["today"]) for name in ("begin", "end"))
        planned = "Planned. " if each["accepted"] else ""
        assert f"{each['name']} {each['place']} {days} {planned}" in page
    assert [each["place"] for each in seen["assigned"] if each["accepted"]] == [line["place"]]
    names = knitters.values_list("name", flat=True)
    rows = dict(in_rows(paper.partition("Done, signed")[2], set(names)))
    day = lap.day(begin, seen["today"])
    assert re.search(rf"\b{line['place']} [^;]*; planned from {day}", rows[somebody.name])
    assert [name for name, row in rows.items() if re.search(rf"\b{line['place']}\b", row)] == [
        somebody.name
    ]
    by_rota = Meant([lap.blanket], timezone.localdate()).all_ready(board_of(lap.blanket))
    firsts = [each[0] for each in by_rota.values() if each[0]["name"] not in full]
    for first in firsts:
        assert re.search(rf"\b{first['place']}\b", rows[first["name"]])


def in_rows(table: str, names: set[str]) -> list[tuple[str, str]]:
    """Who, and what stands in their row."""
    _head, *parts = re.split(rf"\b({'|'.join(names)})\b", table)
    return list(zip(parts[::2], parts[1::2], strict=True))


@pytest.mark.usefixtures("own_files")
def test_the_ways_to_cut_it(lap: Told) -> None:
    lap.ask("panels/", volunteers=3)
    sheet = lap.blanket.sheets.get(kind=PANELS.code)
    with transaction.atomic():
        render_sheet(sheet_id=sheet.pk)
    seen, page = lap.api("panels/", volunteers=3), lap.page("panels/", volunteers="3")

    assert len(seen["proposals"]) > 1
    for each in seen["proposals"]:
        early, sure = (lap.day(each[name], seen["today"]) for name in ("early", "sure"))
        assert f"{early} – {sure}" in page
        sewing = measures.length(each["sewing"], "cm")
        squares, days = each["squares"], floor(each["days"] + 0.5)  # as pages round
        assert re.search(rf"{sewing} .*?{squares} squares in {days} days of knitting", page)
        if each["seams"]:
            for share in each["shares"]:
                assert share_line(share) in page


def test_how_everybody_knits(lap: Told) -> None:
    seen, page = lap.api("gauge/"), lap.page("gauge/")

    assert f"The plan is {measures.gauge(seen['planned'], 'cm')}." in page
    assert {each["tension"] for each in seen["members"]} == {"loose", "even"}
    for each in seen["members"]:
        gauge, side = measures.gauge(each["gauge"], "cm"), measures.fine(each["side"], "cm")
        found, _stays, advice = (" ".join(words.split()) for words in each["in_words"])
        assert f"{gauge} {side} {found} {advice}" in page
    for group in seen["alike"]:
        assert f"{', '.join(group['names'])}: {' '.join(group['in_words'].split())}" in page


def test_what_goes_against_the_rules(demo: None) -> None:
    """Wool, of which the quiet room's blanket was to be."""
    quiet = Told(10, Units.CM)
    conflicts = quiet.api("checks/")["results"]
    page, paper = quiet.page(), quiet.paper(FINISHING)

    assert [each["code"] for each in conflicts if not each["overruled"]]
    for each in conflicts:
        assert each["detail"] in page
        assert each["detail"] in paper
