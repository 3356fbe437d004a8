"""Measures in a circle's units, and how yarn looks."""

from decimal import Decimal

import pytest

from accounts.models import Units
from drives.pages.common.fields import (
    LengthField,
    LooksField,
    MeasureForm,
    WeightField,
    YarnLengthField,
    looks,
)
from drives.pages.yarn.amounts import AmountField


class LapForm(MeasureForm):
    width = LengthField(("cm", "inches"), between=(Decimal(1), Decimal(300)))
    weight = WeightField(("grams", "ounces"), required=False, max_digits=7, decimal_places=3)


@pytest.mark.parametrize(
    ("units", "label", "width", "weight"),
    [(Units.CM, "cm", "90", "12.5"), (Units.INCH, "inches", "35.43", "0.441")],
)
def test_a_measure_is_told_in_the_circles_units_and_kept_in_metric_ones(
    units: str, label: str, width: str, weight: str
) -> None:
    kept = {"width": Decimal("90.0"), "weight": Decimal("12.5")}
    shown = LapForm(None, units=units, initial=kept)
    assert shown["width"].label == label
    assert [str(shown[name].value()) for name in kept] in ([width, weight], [f"{width}.0", weight])
    sent = LapForm({"width": width, "weight": weight}, units=units)
    assert sent.is_valid()
    assert sent.cleaned_data == kept
    assert sent["width"].value() == width  # what was typed stands there again


def test_what_can_hardly_be_is_asked_about() -> None:
    sent = LapForm({"width": "119"}, units=Units.INCH)  # 302.3 cm
    assert sent.errors == {"width": ["That can hardly be; please look again."]}
    assert LapForm({"width": "118"}, units=Units.INCH).is_valid()
    assert LapForm({"width": "119"}, units=Units.CM).is_valid()


def test_amounts_of_yarn_are_whole_grams() -> None:
    field = AmountField(least=1)
    field.tell_in(Units.INCH)
    assert field.clean("3.53") == 100
    assert isinstance(field.clean("3.53"), int)


def test_left_grey_a_colour_looks_as_its_name_says() -> None:
    grey = LooksField().clean("#808080")
    assert looks("navy", grey) == "#26375c"
    assert looks("Vera’s sunset", grey) == grey
    assert looks("navy", LooksField().clean("#FFEE00")) == "#ffee00"


def test_a_length_of_yarn_is_kept_in_whole_metres() -> None:
    field = YarnLengthField(("metres", "yards"))
    field.tell_in(Units.INCH)
    assert field.clean("200") == 183
    assert field.prepare_value(183) == 200
