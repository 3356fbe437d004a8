"""What coordinators say to the rota: kept, changed, taken back, and when it falls away."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from accounts.actions.members import remove_member
from accounts.models import Event, Member
from drives.actions.circles.calendar import add_absence
from drives.actions.squares import rota
from drives.craft.rota.fallen import Fallen
from drives.models import RotaLine, Sheet
from drives.readings.accepted import said
from drives.readings.rota import as_accepted, assigned, seen_by
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk
from tests.sheets.test_rota_leads import rota as told

pytestmark = pytest.mark.usefixtures("own_files")
TODAY = NOW.date()
LATER = NOW + timedelta(minutes=1)


def planned(desk: Desk) -> list[tuple[str, str, str]]:
    """Of the blanket: place, member, and the day's number from today."""
    lines = RotaLine.objects.filter(square__blanket=desk.blanket).select_related("square", "member")
    return sorted(
        (str(each.square), each.member.name, str((each.begin - TODAY).days) if each.begin else "no")
        for each in lines
    )


def accept(desk: Desk, place: str, member: Member, by: Member, days: int = 0) -> RotaLine:
    return rota.accept_line(
        square=desk.square(place), member=member, begin=TODAY + days * DAY, by=by, now=NOW
    )


def test_a_line_is_accepted_changed_declined_and_taken_back(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    events = Event.objects.count()
    accept(desk, "A1", cast.vera, cast.cora)
    accept(desk, "A1", cast.vera, cast.cora)
    assert planned(desk) == [("A1", "Vera", "0")]
    assert Event.objects.count() == events + 1
    accept(desk, "A1", cast.vera, cast.cora, 3)
    accept(desk, "A1", cast.paul, cast.cora, 4)
    assert planned(desk) == [("A1", "Paul", "4")]
    for _twice in range(2):
        rota.decline_line(square=desk.square("A1"), member=cast.vera, by=cast.cora, now=NOW)
    rota.decline_line(square=desk.square("A1"), member=cast.paul, by=cast.cora, now=NOW)
    assert planned(desk) == [("A1", "Paul", "no"), ("A1", "Vera", "no")]
    assert Event.objects.count() == events + 5
    place = desk.square("A1").place
    taken_back = [
        rota.take_back(blanket=desk.blanket, places=places, by=cast.cora, now=NOW)
        for places in ([place], [place], None)
    ]
    assert taken_back == [[place], [], []]
    assert planned(desk) == []
    assert Event.objects.count() == events + 6


def test_what_cannot_be_planned_is_refused(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    add_absence(member=cast.vera, first=TODAY, last=TODAY + DAY, by=cast.vera, now=NOW)
    left = cast.paul
    tries: list[tuple[str, Callable[[], object]]] = [
        ("already-finished", lambda: accept(desk, "A1", cast.vera, cast.cora, 5)),
        ("already-taken", lambda: accept(desk, "B1", cast.paul, cast.cora)),
        ("day-is-over", lambda: accept(desk, "A2", cast.vera, cast.cora, -1)),
        ("member-is-away", lambda: accept(desk, "A2", cast.vera, cast.cora, 1)),
        ("not-a-knitter", lambda: accept(desk, "A2", cast.cora, cast.cora)),
        ("rota-not-made", lambda: accept_all(desk, cast)),
    ]
    for code, act in tries:
        with pytest.raises(Refused) as refused:
            act()
        assert refused.value.code == code
    remove_member(member=left, by=cast.olga, now=NOW)
    with pytest.raises(Refused) as refused:
        accept(desk, "A2", Member.objects.get(pk=left.pk), cast.cora)
    assert refused.value.code == "member-has-left"
    assert planned(desk) == []


def accept_all(desk: Desk, cast: Cast, seen: Sheet | None = None) -> list[str]:
    moment = seen.finished_at if seen else None
    accepted = rota.accept_rota(blanket=desk.blanket, seen=moment, by=cast.cora, now=NOW)
    return sorted(map(str, accepted))


def test_the_whole_rota_is_accepted_as_it_was_seen(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    old = told(desk, ("A1", cast.vera))
    desk.claim("A1", cast.vera)
    told(desk, ("A1", cast.vera), ("B1", cast.paul), ("A2", cast.olga), at=LATER)
    accept(desk, "A2", cast.vera, cast.cora, 6)
    with pytest.raises(Refused) as refused:
        accept_all(desk, cast, old)
    assert refused.value.code == "rota-is-newer"
    assert accept_all(desk, cast, Sheet.objects.latest("pk")) == ["B1"]  # A1 is taken by now
    assert planned(desk) == [("A2", "Vera", "6"), ("B1", "Paul", "0")]
    assert accept_all(desk, cast) == []


def test_it_falls_away_and_says_so(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    for place in ("A1", "A2", "B1", "B2"):
        accept(desk, place, cast.paul, cast.cora, 2)
    accept(desk, "C1", cast.vera, cast.cora, 2)

    def fallen(days: int = 0) -> dict[str, Fallen | None]:
        lines = said([desk.blanket], TODAY + days * DAY)[desk.blanket.pk]
        return {str(each.place): each.fallen for each in lines}

    assert set(fallen().values()) == {None}
    desk.knit("A1", cast.paul, at=LATER)  # as planned: nothing to tell
    desk.claim("B1", cast.vera, at=LATER)
    desk.give_back("B1", cast.vera, at=LATER)
    add_absence(
        member=cast.paul, first=TODAY + 9 * DAY, last=TODAY + 9 * DAY, by=cast.cora, now=NOW
    )
    assert fallen() == {"B1": Fallen.TAKEN, "A2": None, "B2": None, "C1": None}
    assert fallen(9)["A2"] is Fallen.AWAY
    assert fallen(17)["C1"] is Fallen.OVER
    remove_member(member=cast.paul, by=cast.olga, now=NOW)
    assert fallen()["C1"] is None
    assert fallen() == {"B1": Fallen.TAKEN, "A2": Fallen.LEFT, "B2": Fallen.LEFT, "C1": None}


def test_only_coordinators_and_the_member_learn_of_it(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    accept(desk, "A2", cast.paul, cast.cora)
    accept(desk, "B1", cast.paul, cast.cora)
    desk.claim("B1", cast.vera, at=LATER)
    empty: dict[str, object] = {"assigned": []}

    def seen(me: Member | None) -> tuple[list[bool | None], list[str], list[str]]:
        rota = seen_by(empty, desk.blanket, TODAY, me and me.pk)  # type: ignore[arg-type]
        return (
            [each["accepted"] for each in rota["assigned"]],
            [each["why"] for each in rota["assigned"]],
            [each["place"] for each in rota["fallen"]],
        )

    assert seen(None) == seen(cast.paul) == ([True], ["planned"], ["B1"])
    assert seen(cast.vera) == ([None], ["free"], [])


def test_an_accepted_day_stands_in_place_of_the_rotas(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    told(desk, ("A1", cast.vera))
    accept(desk, "A1", cast.paul, cast.cora, 4)
    (line,) = assigned([desk.blanket], TODAY)[desk.blanket.pk]
    assert (line["name"], line["begin"], line["end"], line["waiting"]) == (
        "Paul", (TODAY + 4 * DAY).isoformat(), (TODAY + 9 * DAY).isoformat(), 3,
    )  # fmt: skip
    assert as_accepted(desk.blanket, [line], [], TODAY)[0]["accepted"] is False
