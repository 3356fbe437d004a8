"""The page of the forecast: asked for by one press, told in words, a picture and a table."""

import re

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from drives.actions.circles import calendar
from drives.models import Sheet, Status
from drives.sheets.kinds import FORECAST, PANELS
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, Desk
from tests.pages.conftest import Reader

pytestmark = pytest.mark.usefixtures("own_files")


def path(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/forecast/"


def made(desk: Desk, reader: Reader) -> str:
    """The words of the page once the worker has done its part."""
    reader.post(path(desk))
    for sheet in Sheet.objects.filter(status=Status.QUEUED):
        render_sheet(sheet_id=sheet.pk)
    return reader.read(path(desk))


def test_looking_asks_for_nothing(plan: Plan, vera: Reader) -> None:
    page = vera.get(path(plan())).content.decode()
    assert "This has not been worked out yet for the blanket as it stands now." in page
    assert 'hx-trigger="submit, load"' in page
    assert not Sheet.objects.exists()


def test_from_asking_to_the_answer_without_scripts(plan: Plan, vera: Reader) -> None:
    desk = plan(3, 3, deadline=timezone.localdate() + 9000 * DAY)
    asked = vera.post(path(desk))
    sheet = Sheet.objects.get()
    again = f"{path(desk)}?sheet={sheet.pk}"
    assert asked["Location"] == again
    page = vera.get(again).content.decode()
    assert "It waits for its turn." in page
    assert f'<noscript><meta http-equiv="refresh" content="3; url={again}"></noscript>' in page
    assert "It waits for its turn." in vera.read(path(desk))  # whoever comes by waits too
    render_sheet(sheet_id=sheet.pk)
    assert vera.get(again)["Location"] == path(desk)
    told = vera.read(path(desk))
    assert re.search(r"finished by \d+ \w+( \d+)? with 50 %, by \d+ \w+( \d+)? with 90 %", told)
    assert "is as good as certain to be kept." in told
    assert "0 of 9 squares are finished." in told
    assert "What holds it back" in told
    assert "One more volunteer, as quick as most:" in told
    assert "Work it out" not in told
    assert vera.post(path(desk))["Location"] == path(desk)
    assert Sheet.objects.count() == 1


def test_scripts_press_and_fetch_only_what_has_changed(plan: Plan, vera: Reader) -> None:
    desk = plan()
    part = vera.post(path(desk), headers={"HX-Request": "true"}).content.decode()
    sheet = Sheet.objects.get()
    assert f'hx-get="{path(desk)}?sheet={sheet.pk}&amp;seen=queued-0"' in part
    assert "<html" not in part
    shown = {"sheet": str(sheet.pk), "seen": "queued-0"}
    assert vera.get(path(desk), shown).status_code == 204
    Sheet.objects.update(status=Status.RENDERING, progress=45)
    part = vera.get(path(desk), shown).content.decode()
    assert 'value="45"' in part
    assert f'hx-get="{path(desk)}?sheet={sheet.pk}&amp;seen=rendering-45"' in part
    assert "<html" not in part
    Sheet.objects.update(status=Status.QUEUED)
    render_sheet(sheet_id=sheet.pk)
    assert vera.get(path(desk), shown)["HX-Redirect"] == path(desk)
    again = vera.post(path(desk), headers={"HX-Request": "true"})
    assert again["HX-Redirect"] == path(desk)


def test_a_failure_is_told_and_not_tried_again_by_itself(plan: Plan, vera: Reader) -> None:
    desk = plan()
    vera.post(path(desk))
    sheet = Sheet.objects.get()
    Sheet.objects.update(status=Status.FAILED, error="too-slow")
    page = vera.get(path(desk), {"sheet": str(sheet.pk)}).content.decode()
    assert "It took too long to make." in page
    assert 'hx-trigger="submit"' in page
    assert Sheet.objects.count() == 1
    assert "It waits for its turn." in vera.press(path(desk))
    assert Sheet.objects.count() == 2


def test_when_something_has_happened_the_last_one_is_shown_with_its_day(
    plan: Plan, cast: Cast, vera: Reader
) -> None:
    desk = plan(3, 3)
    made(desk, vera)
    desk.knit("A1", cast.vera)
    old = vera.read(path(desk))
    assert re.search(r"This is the forecast as it stood on \d+ \w+, \d\d:\d\d\.", old)
    assert "0 of 9 squares are finished." in old
    assert Sheet.objects.count() == 1
    vera.post(path(desk))
    assert "It waits for its turn. 0 % 0 %" in vera.read(path(desk))
    new = made(desk, vera)
    assert "1 of 9 squares are finished." in new
    assert "as it stood" not in new


def test_a_finished_square_moves_it(plan: Plan, cast: Cast, vera: Reader) -> None:
    desk = plan(3, 3)
    before = made(desk, vera)
    now = timezone.now()
    desk.claim("A1", cast.vera, at=now - DAY)
    desk.finish("A1", cast.vera, at=now)
    after = made(desk, vera)
    assert "1 of 9 squares are finished." in after
    assert "1 square, finished by the people who knit now, shows how fast they knit." in after
    assert after.partition("It will be")[2][:60] != before.partition("It will be")[2][:60]


def test_who_is_away_is_told_as_the_reason_to_coordinators_alone(
    plan: Plan, cast: Cast, vera: Reader, cora: Reader
) -> None:
    desk = plan(3, 3, mode="travelling")
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera, at=timezone.now())
    today = timezone.localdate()
    assert "Vera is away" not in made(desk, cora)
    calendar.add_absence(
        member=cast.vera, first=today, last=today + 60 * DAY, by=cast.vera, now=timezone.now()
    )
    assert "Vera is away for some days" in made(desk, cora)
    told = vera.read(path(desk))
    assert "Some squares take longer than most, or somebody is away." in told
    assert "Vera is away" not in told


def test_the_picture_says_in_words_what_it_shows(plan: Plan, vera: Reader) -> None:
    desk = plan(3, 3)
    made(desk, vera)
    page = vera.get(path(desk)).content.decode()
    assert '<title id="forecast-title">Finished squares of Blanket over time</title>' in page
    assert '<desc id="forecast-desc">It will be finished by' in page


def test_a_done_blanket_has_no_forecast(plan: Plan, cast: Cast, vera: Reader) -> None:
    desk = plan(1, 1)
    desk.knit("A1", cast.vera)
    told = made(desk, vera)
    assert "All squares are finished." in told
    assert "What would change it" not in told


def test_the_board_tells_it_in_one_line(plan: Plan, cast: Cast, vera: Reader) -> None:
    desk = plan()
    board = f"/blankets/{desk.blanket.pk}/"
    assert "When will it be done?" in vera.read(board)
    made(desk, vera)
    assert re.search(r"Done by about \d+ \w+( \d+)?: the whole forecast", vera.read(board))


def test_another_kind_or_blanket_is_not_waited_for(plan: Plan, vera: Reader, olga: Reader) -> None:
    first, second = plan(), plan()
    olga.post(f"/blankets/{first.blanket.pk}/panels/", {"volunteers": 2})
    vera.post(path(first))
    panels, forecast = (Sheet.objects.get(kind=kind.code) for kind in (PANELS, FORECAST))
    Sheet.objects.filter(pk__in=[panels.pk, forecast.pk]).update(status=Status.FAILED, error="No.")
    for desk, sheet in ((first, panels), (second, forecast)):
        assert "No." not in vera.read(path(desk), {"sheet": str(sheet.pk)})


@pytest.mark.parametrize("side", [2, 6])
def test_it_costs_the_same_queries_at_every_size(
    plan: Plan,
    cast: Cast,
    vera: Reader,
    side: int,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    desk = plan(side, side)
    desk.knit("A1 B1", cast.vera)
    made(desk, vera)
    with django_assert_num_queries(15):
        vera.get(path(desk))


def test_what_was_learned_and_what_is_assumed_is_told(plan: Plan, cast: Cast, vera: Reader) -> None:
    desk = plan(4, 4)
    now = timezone.now()
    for number, (name, member) in enumerate((("A1", cast.vera), ("B1", cast.vera))):
        desk.claim(name, member, at=now - (9 - 4 * number) * DAY)
        desk.finish(name, member, at=now - (7 - 4 * number) * DAY)
    told = made(desk, vera)
    assert re.search(
        r"People pause for [\d.]+ days between squares, going by 1 pause so far\.", told
    )
    assert re.search(r"3 people could knit; about [\d.]+ of them may not\.", told)
    assert "% of squares are given back or lapse." in told
    assert "A square takes 5 days." in told
    assert "Most squares take 0.7 to 1.4 times as long as their knitter’s usual one." in told
    assert "People take their first square after 1 day." in told
    assert "Of the people who could knit, 10 % never begin." in told


def test_a_forecast_of_before_habits_were_learned_can_still_be_read(
    plan: Plan, vera: Reader
) -> None:
    desk = plan()
    made(desk, vera)
    sheet = Sheet.objects.get()
    assert isinstance(sheet.foretold, dict)
    del sheet.foretold["rests_on"]["habits"]
    sheet.save(update_fields=["foretold"])
    told = vera.read(path(desk))
    assert "What it rests on" in told
    assert "could knit" not in told


def test_ways_to_pass_pieces_on_are_told_with_what_they_change(plan: Plan, vera: Reader) -> None:
    told = made(plan(3, 3, mode="travelling", hand_over_days=30), vera)
    assert "If a piece stays with one person until it offers nothing more: by" in told
    assert "If pieces are passed on only when you meet: by" in told
    assert "If a piece is passed on after each square" not in told
    kept = made(plan(3, 1, mode="travelling", hand_over_days=30, passing="keep"), vera)
    assert "If a piece is passed on after each square for which somebody waits: by" in kept
