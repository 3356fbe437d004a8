"""What all forms share."""

import re
from datetime import date
from typing import NoReturn

import pytest
from django import forms
from django.test import RequestFactory

from shared.basics.refusals import Refused
from shared.pages.forms import ActionForm, DateField, Done, YesNoField, posted


class DayForm(ActionForm):
    day = DateField()


def test_an_action_that_answers_nothing_is_done_all_the_same() -> None:
    assert ActionForm({}).carry_out(lambda: None) == Done(None)


def test_what_is_not_sent_or_not_right_is_not_carried_out() -> None:
    def never() -> NoReturn:
        raise AssertionError

    assert ActionForm(None).carry_out(never) is None
    assert DayForm({"day": "soon"}).carry_out(never) is None


def test_a_refusal_stands_among_the_errors() -> None:
    def refuse() -> NoReturn:
        raise Refused("taken", "It is taken.")

    form = ActionForm({})
    assert form.carry_out(refuse) is None
    assert form.non_field_errors() == ["It is taken."]
    assert form.status == 409


def test_a_page_that_is_looked_at_has_sent_nothing() -> None:
    assert posted(RequestFactory().get("/", {"day": "2026-11-03"})) is None
    sent = posted(RequestFactory().post("/", {"day": "2026-11-03"}))
    assert sent is not None
    assert sent["day"] == "2026-11-03"


def test_a_day_is_asked_for_and_told_as_browsers_do() -> None:
    form = DayForm({"day": "2026-11-03"})
    assert form.is_valid()
    assert form.cleaned_data["day"] == date(2026, 11, 3)
    shown = str(DayForm(initial={"day": date(2026, 11, 3)})["day"])
    assert 'type="date"' in shown
    assert 'value="2026-11-03"' in shown


class AskForm(ActionForm):
    washed = YesNoField({True: "Yes", False: "No", None: "Not told"})
    size = forms.ChoiceField()


@pytest.mark.parametrize(("sent", "told"), [("yes", True), ("no", False), ("", None)])
def test_yes_no_and_not_known_come_back_as_they_were_told(sent: str, told: bool | None) -> None:
    form = AskForm({"washed": sent, "size": "3"})
    form.offer("size", [(3, "three")])
    assert form.is_valid()
    assert form.cleaned_data["washed"] is told
    assert AskForm(initial={"washed": told})["washed"].value() == sent


def test_answers_are_offered_in_their_order() -> None:
    shown = str(AskForm()["washed"])
    assert re.findall(r'value="(\w*)"', shown) == ["yes", "no", ""]


def test_fields_stand_in_parts_and_those_that_are_not_there_in_none() -> None:
    parts = AskForm().grouped(("Washing", ["washed"]), ("Size", ["size", "weight"]))
    assert [(heading, [field.name for field in fields]) for heading, fields in parts] == [
        ("Washing", ["washed"]),
        ("Size", ["size"]),
    ]
