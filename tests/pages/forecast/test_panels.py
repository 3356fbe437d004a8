"""Comparing panels and choosing one: nothing is cut without being asked."""

import re
from datetime import date
from typing import Any

import pytest
from django.utils import timezone

from drives.craft.forecast.pace import Days as DaysOf
from drives.craft.forecast.situation import Knitter, Meetings, Situation, Travelling
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import plan as plan_of
from drives.craft.places import Place
from drives.models import Blanket, Sheet, Status
from drives.readings.foretold import read_foretold
from drives.sheets.kinds.panels import SUPPOSED, supposed
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, Desk
from tests.pages.conftest import Reader

pytestmark = pytest.mark.usefixtures("own_files")


def path(desk: Desk, seams: str = "") -> str:
    return f"/blankets/{desk.blanket.pk}/panels/{seams and seams + '/'}"


def compared(desk: Desk, reader: Reader, **supposed: object) -> str:
    """The words of the page once the worker has done its part."""
    reader.post(path(desk), supposed)
    for sheet in Sheet.objects.filter(status=Status.QUEUED):
        render_sheet(sheet_id=sheet.pk)
    return reader.read(path(desk), supposed)


def test_it_asks_first_with_what_is_so_now(plan: Plan, olga: Reader) -> None:
    deadline = timezone.localdate() + 40 * DAY
    desk = plan(mode="travelling", deadline=deadline)
    page = olga.get(path(desk)).content.decode()
    for value in (deadline.isoformat(), "3"):
        assert f'value="{value}"' in page
    assert "hand_over_days" in page
    assert not Sheet.objects.exists()
    assert "hand_over_days" not in olga.get(path(plan())).content.decode()


def test_pieces_go_on_as_in_the_drive_unless_something_is_told() -> None:
    options: dict[str, Any] = dict.fromkeys(SUPPOSED) | {"volunteers": 2}
    two, today = [Knitter(DaysOf(5))] * 2, date(2026, 11, 1)
    for mode in (
        Travelling(DaysOf(3), Meetings((4.0, 9.0))),
        Travelling(DaysOf(3), turn=1),
        Travelling(DaysOf(3)),
    ):
        situation = Situation(plan_of(Layout(2, 2, 20)), two, mode)
        assert supposed(situation, options, today).mode == mode
        by_post = supposed(situation, options | {"hand_over_days": 9.0}, today).mode
        assert isinstance(by_post, Travelling)
        assert (by_post.meetings, by_post.turn) == (None, mode.turn)
        told = {"meeting": "2026-11-03", "every": 7}
        meeting = supposed(situation, options | told, today).mode
        assert isinstance(meeting, Travelling)
        assert meeting.meetings == Meetings((2.0, 9.0))


def test_the_ways_stand_in_a_table(plan: Plan, olga: Reader) -> None:
    wanted = timezone.localdate() + 9000 * DAY
    told = compared(plan(3, 3), olga, volunteers=3, wanted=wanted.isoformat())
    assert "as it is" in told
    assert "2 panels along the columns" in told
    assert "3 panels, cut both ways" in told
    assert "for 30 cm more to sew." in told
    assert "Hand-overs while knitting" not in told
    assert "30 cm" in told
    assert "3.0 squares in" in told
    assert "unbeaten" in told
    assert "100 %" in told
    assert Sheet.objects.get().options["wanted"] == wanted.isoformat()


def test_travelling_pieces_change_hands(plan: Plan, olga: Reader) -> None:
    told = compared(plan(3, 3, mode="travelling"), olga, volunteers=3)
    assert "Hand-overs while knitting" in told


def test_a_blanket_that_is_begun_is_cut_round_it(plan: Plan, olga: Reader, cast: Cast) -> None:
    desk = plan(4, 4, at_once=1)
    desk.knit("A1 A2 B1 B2", cast.vera)
    told = compared(desk, olga, volunteers=2, pace=3)
    assert "2 panels, with a seam round a corner" in told
    page = olga.get(path(desk), {"volunteers": 2, "pace": 3}).content.decode()
    link = r'href="([^"]+)"\s*>Choose this<span class="unseen">: 2 panels, with a seam'
    address = re.search(link, page)
    assert address
    assert "It is knitted as 2 panels." in olga.read(address[1])
    assert "The blanket is cut" in olga.press(address[1])
    assert desk.states() == dict.fromkeys(("A1", "A2", "B1", "B2"), "finished")


def test_what_takes_minutes_holds_no_label_up(plan: Plan, olga: Reader) -> None:
    """Those who wait for a document have a worker of their own."""
    desk = plan(3, 3)
    olga.post(path(desk), {"volunteers": 3})
    assert Sheet.objects.get().in_batch


def test_looking_asks_for_nothing(plan: Plan, olga: Reader) -> None:
    desk = plan()
    page = olga.get(path(desk), {"volunteers": "3", "pace": "2.5"}).content.decode()
    assert "This has not been worked out yet" in page
    sent = re.findall(r'<input\s+type="hidden"\s+name="(\w+)"\s+value="([\d.]+)"', page)
    assert dict(sent) == {"volunteers": "3", "pace": "2.5"}
    assert not Sheet.objects.exists()
    sent = olga.post(path(desk), {"volunteers": "3", "pace": "2.5"})
    assert sent["Location"] == (
        f"{path(desk)}?volunteers=3&pace=2.5&sheet={Sheet.objects.get().pk}"
    )


def test_ways_to_cut_another_layout_are_not_shown(plan: Plan, cast: Cast, olga: Reader) -> None:
    desk = plan(3, 3)
    assert "unbeaten" in compared(desk, olga, volunteers=3)
    olga.post(path(desk, "A–B"))
    assert "This has not been worked out yet" in olga.read(path(desk), {"volunteers": 3})


def test_what_is_supposed_changes_the_answer(plan: Plan, olga: Reader) -> None:
    desk = plan(3, 3, mode="travelling")
    quick = compared(desk, olga, volunteers=3, pace=1)
    slow = compared(desk, olga, volunteers=3, pace=20)
    posted = compared(desk, olga, volunteers=3, pace=1, hand_over_days=30)
    day = timezone.localdate() + DAY
    meeting = compared(desk, olga, volunteers=3, pace=1, meeting=day.isoformat(), every=60)
    assert len({quick, slow, posted, meeting}) == 4
    assert Sheet.objects.count() == 4
    compared(desk, olga, volunteers=3, pace=1)
    assert Sheet.objects.count() == 4


def test_nonsense_is_refused_in_words(plan: Plan, olga: Reader) -> None:
    for response in (
        olga.get(path(plan()), {"volunteers": "0"}),
        olga.post(path(plan()), {"volunteers": "0"}),
        olga.post(path(plan())),
    ):
        assert response.status_code == 422
        assert "Something here needs another look." in response.content.decode()
    assert not Sheet.objects.exists()


def test_choosing_says_what_it_means_and_cuts_only_then(
    plan: Plan, olga: Reader, cast: Cast
) -> None:
    desk = plan(3, 2)
    desk.knit("A1", cast.vera)
    compared(desk, olga, volunteers=3)
    page = olga.get(path(desk), {"volunteers": 3}).content.decode()
    assert f'href="{path(desk, "B%E2%80%93C")}"' in page
    told = olga.read(path(desk, "B–C"))
    assert "It is cut along these lines: B–C." in told
    assert "It is knitted as 2 panels." in told
    assert "20 cm to sew when the panels are done" in told
    assert "C1 and C2 are cast on there." in told
    assert Blanket.objects.get().seams == []
    assert "The blanket is cut" in olga.press(path(desk, "B–C"))
    assert Blanket.objects.get().seams == [["B1", "C1"], ["B2", "C2"]]
    assert desk.states() == {"A1": "finished"}
    assert "The blanket is cut there already." in olga.press(path(desk, "B–C"))


def test_what_is_begun_is_not_cut(plan: Plan, olga: Reader, cast: Cast) -> None:
    desk = plan(3, 2)
    desk.knit("A1 B1", cast.vera)
    response = olga.post(path(desk, "A–B"))
    assert response.status_code == 409
    assert "The layout can change only where nothing is begun" in response.content.decode()
    assert Blanket.objects.get().seams == []


def test_seams_that_cannot_be_are_not_found(plan: Plan, olga: Reader) -> None:
    layout = Layout(3, 3, 20, large=frozenset({Large(Place(1, 1), 2)}))
    desk = plan(layout=layout)
    for seams in ("A1–B1", "C–D", "nonsense", "A9–B9"):
        assert olga.get(path(desk, seams)).status_code == 404


def test_others_may_not(plan: Plan, cora: Reader, vera: Reader, stan: Reader) -> None:
    desk = plan()
    for reader, status in ((cora, 403), (vera, 403), (stan, 404)):
        assert reader.get(path(desk), {"volunteers": 3}).status_code == status
        assert reader.post(path(desk), {"volunteers": 3}).status_code == status
        assert reader.post(path(desk, "A–B")).status_code == status
    assert not Sheet.objects.exists()


def test_who_could_get_which_panel(plan: Plan, olga: Reader, vera: Reader, cast: Cast) -> None:
    """Vera knits loosely and Paul tightly; the one has begun the left half, the other the right."""
    seams = frozenset(Seam(Place(2, row), Place(3, row)) for row in range(1, 5))
    desk = plan(layout=Layout(4, 4, 20, seams=seams), at_once=1)
    desk.knit("A1", cast.vera)
    desk.knit("C1", cast.paul)
    for place, side in (("A1", "11"), ("C1", "9")):
        address = f"/blankets/{desk.blanket.pk}/squares/{place}/measure/"
        olga.press(address, {"width": side, "height": side, "needle": "4"})
    known = Sheet.objects.count()
    compared(desk, olga, volunteers=3, pace=5)
    (sheet,) = Sheet.objects.order_by("pk")[known:]
    halves = read_foretold(sheet)["proposals"][0]["shares"]
    assert [(each["first"], each["last"], each["squares"]) for each in halves] == [
        ("A1", "B4", 7),
        ("C1", "D4", 7),
    ]
    assert "Paul" not in halves[0]["members"]
    assert "Vera" not in halves[1]["members"]
    more = [each for each in read_foretold(sheet)["proposals"] if each["panels"] > 2]
    assert more
    told = compared(desk, olga, volunteers=3, pace=5)
    assert "Who could get which panel" in told
    assert "A1–B" in told


def test_people_who_are_only_supposed(plan: Plan, olga: Reader) -> None:
    desk = plan(6, 2, at_once=1)
    told = compared(desk, olga, volunteers=6, pace=5)
    assert "more person" in told or "more people" in told
