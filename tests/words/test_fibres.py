"""Fibres as a yarn's band tells them."""

import pytest
from django.utils import translation
from hypothesis import given, settings
from hypothesis import strategies as st

from drives.craft.fibre.fibres import Fibre, Fibres
from drives.craft.fibre.notation import fibres_code
from drives.words.fibres import NAMES, fibres_line, read_fibres
from tests.craft.fibre.test_fibres import compositions

ACRYLIC, WOOL, NYLON, COTTON = Fibre.ACRYLIC, Fibre.WOOL, Fibre.POLYAMIDE, Fibre.COTTON
MOHAIR_AND_SILK = {Fibre.MOHAIR: 70, Fibre.SILK: 30}
LIKE_VISCOSE = {Fibre.LYOCELL: 50, Fibre.MODAL: 30, Fibre.HEMP: 20}


@pytest.mark.parametrize(
    ("text", "fibres"),
    [
        ("80 % acrylic, 20 % wool", {ACRYLIC: 80, WOOL: 20}),
        ("80% Acrylic / 20% Merino Wool", {ACRYLIC: 80, WOOL: 20}),
        ("Wool 75%, Nylon 25%.", {WOOL: 75, NYLON: 25}),
        ("75 per cent superwash wool and 25 percent polyamide", {WOOL: 75, NYLON: 25}),
        ("50% merino 30% wool 20% cotton", {WOOL: 80, COTTON: 20}),
        ("60% bamboo & 40% organic cotton", {Fibre.BAMBOO: 60, COTTON: 40}),
        ("100 % baby alpaca", {Fibre.ALPACA: 100}),
        ("100 % Shetland wool", {WOOL: 100}),
        ("70% Kid Mohair, 30% silk", MOHAIR_AND_SILK),
        ("100 % mercerised cotton", {COTTON: 100}),
        ("100 % mercerized cotton", {COTTON: 100}),
        ("75 % wool, 25 % Polyamide (Nylon)", {WOOL: 75, NYLON: 25}),
        ("75 % wool, 25 % nylon (polyamide)", {WOOL: 75, NYLON: 25}),
        ("50 % lyocell, 30 % modal, 20 % true hemp", LIKE_VISCOSE),
        ("97 % cotton, 3 % latex", {COTTON: 97, Fibre.RUBBER: 3}),
        ("97 % cotton, 3 % elastodiene", {COTTON: 97, Fibre.RUBBER: 3}),
        ("100 % viscose (bamboo)", {Fibre.BAMBOO: 100}),
        ("50 % cashmere wool, 50 % camel hair", {Fibre.CASHMERE: 50, Fibre.CAMEL: 50}),
        ("90% cotton; 10% other fibers", {COTTON: 90, Fibre.OTHER: 10}),
    ],
)
def test_fibres_are_read_as_bands_tell_them(text: str, fibres: Fibres) -> None:
    assert read_fibres(text) == fibres


@pytest.mark.parametrize("text", ["", "  ", "?", "unknown", "Not known", "fibres not known"])
def test_what_nobody_knows_is_none(text: str) -> None:
    assert read_fibres(text) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("wool", "“wool” tells no fibre and its share"),
        ("100 % acrylic, wool", "“wool” tells no fibre and its share"),
        ("80 % acrylic, wool 20 %", "“wool 20 %” tells no fibre and its share"),
        ("33.3 % wool", "whole per cent"),
        ("100", "“100” tells no fibre"),
        ("80 % acrylic, 15 % wool", "add up to 95 %, not to 100 %"),
        ("100 % wool, 20 % nylon", "add up to 120 %"),
        ("100 % wool, 0 % nylon", "add up to 100 %"),
        ("80 % acrylic, 20 % unicorn", "“unicorn” is not one of the fibres"),
        ("100 % faux wool", "“faux wool” is not one of the fibres"),
        ("100 % merino cotton", "“merino cotton” is not one of the fibres"),
        ("100 % kid cotton", "“kid cotton” is not one of the fibres"),
        ("100 % cotton (wool)", "“cotton (wool)” is not one of the fibres"),
        ("100 % wool silk", "“wool silk” is not one of the fibres"),
        ("100 % superwash", "“superwash” is not one of the fibres"),
    ],
)
def test_what_cannot_be_read_is_never_guessed(text: str, says: str) -> None:
    with pytest.raises(ValueError) as refused:
        read_fibres(text)
    assert says in str(refused.value)


def test_the_largest_share_is_told_first() -> None:
    assert fibres_line({WOOL: 20, ACRYLIC: 80}) == "80 % acrylic, 20 % wool"
    assert fibres_line(None) == "fibres not known"


@given(compositions(), st.sampled_from(["en-gb", "en-us"]))
@settings(max_examples=40)
def test_what_is_told_can_be_read_again(fibres: Fibres, locale: str) -> None:
    with translation.override(locale):
        assert read_fibres(fibres_line(fibres)) == fibres
        assert read_fibres(fibres_code(fibres)) == fibres


def test_americans_have_other_names_for_some() -> None:
    with translation.override("en-us"):
        assert fibres_line({NYLON: 25, WOOL: 75}) == "75 % wool, 25 % nylon"
        assert fibres_line(None) == "fibers not known"


def test_every_fibre_has_a_name() -> None:
    assert list(NAMES) == list(Fibre)
