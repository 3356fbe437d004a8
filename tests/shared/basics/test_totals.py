"""Totals: so many there may be, and then a sentence that says what would help."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.conf import settings
from django.test import Client, override_settings

from accounts import actions
from accounts.actions.circles import make_circle
from accounts.models import Role
from drives.actions.circles.calendar import add_absence, add_meeting
from drives.actions.drives.blankets import change_layout, plan_blanket
from drives.actions.drives.drives import make_drive
from drives.actions.squares.measurements import Measured, measure_square
from drives.craft.layout.layout import Layout
from shared.basics.refusals import Refused
from shared.basics.totals import SENTENCES
from tests.cast import Cast
from tests.desk import NOW, SETTINGS, Desk
from tests.store import new_yarn
from tests.test_access_matrix import just_asked
from tests.values.forms import sent_from

CIRCLE = {"units": "cm", "english": "british", "time_zone": "Europe/London", "hand": "right"}


def circle(cast: Cast, desk: Desk, n: int) -> object:
    assert cast.olga.user
    return make_circle(user=cast.olga.user, name=f"Circle {n}", now=NOW, **CIRCLE)


def key(cast: Cast, desk: Desk, n: int) -> object:
    assert cast.olga.user
    return actions.make_token(user=cast.olga.user, name=f"Key {n}", now=NOW)


def member(cast: Cast, desk: Desk, n: int) -> object:
    return actions.add_paper_member(by=cast.olga, name="Nan", reach="", hand="right", now=NOW)


def invitation(cast: Cast, desk: Desk, n: int) -> object:
    return actions.invite_person(by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=NOW)


def drive(cast: Cast, desk: Desk, n: int) -> object:
    return make_drive(circle=cast.circle, by=cast.olga, now=NOW, **SETTINGS)


def blanket(cast: Cast, desk: Desk, n: int) -> object:
    drive, layout = desk.blanket.drive, Layout(1, 1, 20)
    return plan_blanket(
        drive=drive, by=cast.olga, name="Small", gauge=Decimal(20), layout=layout, now=NOW
    )


def larger(cast: Cast, desk: Desk, n: int) -> object:
    layout = Layout(2, 3 + n, 20)
    return change_layout(blanket=desk.blanket, by=cast.olga, layout=layout, now=NOW)


def yarn(cast: Cast, desk: Desk, n: int) -> object:
    return new_yarn(cast.cora, colour=f"Blue {n}")


def meeting(cast: Cast, desk: Desk, n: int) -> object:
    day = date(2026, 12, 1 + n)
    return add_meeting(drive=desk.blanket.drive, day=day, by=cast.olga, now=NOW)


def absence(cast: Cast, desk: Desk, n: int) -> object:
    day = date(2026, 12, 1 + n)
    return add_absence(member=cast.vera, first=day, last=day, by=cast.vera, now=NOW)


def swatch(cast: Cast, desk: Desk, n: int) -> object:
    measured = Measured(20 + n, Decimal(10), 20, Decimal(10), None)
    return measure_square(
        blanket=desk.blanket,
        member=cast.vera,
        by=cast.vera,
        square=None,
        measured=measured,
        now=NOW,
    )


@pytest.mark.parametrize(
    ("what", "most", "make"),
    [
        ("circles", 3, circle),  # Olga has one
        ("keys", 2, key),
        ("members", 7, member),
        ("invitations", 2, invitation),
        ("drives", 3, drive),
        ("blankets", 3, blanket),
        ("squares", 6, blanket),  # the desk has four
        ("squares", 8, larger),
        ("yarns", 2, yarn),
        ("meetings", 2, meeting),
        ("absences", 2, absence),
        ("swatches", 2, swatch),
    ],
)
def test_so_many_and_no_more(
    cast: Cast, desk: Desk, what: str, most: int, make: Callable[[Cast, Desk, int], Any]
) -> None:
    with override_settings(TOTALS=settings.TOTALS | {what: most}):
        make(cast, desk, 0)
        with pytest.raises(Refused) as refused:
            [make(cast, desk, n) for n in range(1, 10)]
    assert refused.value.code == "no-room"
    assert refused.value.facts == {"what": what, "most": most}
    assert str(most) in refused.value.detail


def test_each_total_has_its_sentence() -> None:
    assert SENTENCES.keys() == settings.TOTALS.keys()


@pytest.mark.parametrize(
    ("what", "path"),
    [
        ("circles", "/circles/new/"),
        ("keys", "/me/keys/new/"),
        ("members", "/circles/{circle}/people/add/"),
        ("drives", "/circles/{circle}/drives/new/"),
        ("meetings", "/drives/{drive}/meetings/"),
    ],
)
def test_pages_say_the_sentence(cast: Cast, desk: Desk, what: str, path: str) -> None:
    client = cast_client(cast)
    path = path.format(circle=cast.circle.pk, drive=desk.blanket.drive_id)
    forms = sent_from(client.get(path).content.decode(), path)
    form = next(form for form in forms if form.method == "POST" and form.path == path)
    with override_settings(TOTALS=settings.TOTALS | {what: 0}):
        answer = client.post(path, form.fields)
    assert answer.status_code == 409
    assert str(SENTENCES[what])[:30] in answer.content.decode()


def cast_client(cast: Cast) -> Client:
    client = Client()
    assert cast.olga.user
    client.force_login(cast.olga.user)
    just_asked(client)
    return client
