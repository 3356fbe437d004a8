"""Thickness and fibres are never mixed, and what nobody knows is not taken to be the same."""

import pytest

from drives.craft.fibre.fibres import Fibre
from drives.craft.yarn.lots import Strand, Unlike, unlike

WOOL, ACRYLIC = {Fibre.WOOL: 100}, {Fibre.ACRYLIC: 100}


@pytest.mark.parametrize(
    ("one", "other", "why"),
    [
        (Strand(4, WOOL), Strand(4, {Fibre.WOOL: 100}), None),
        (Strand(5, WOOL), Strand(1, ACRYLIC), Unlike.THICKNESS),
        (Strand(5, None), Strand(1, WOOL), Unlike.THICKNESS),
        (Strand(0, WOOL), Strand(1, WOOL), Unlike.THICKNESS),
        (Strand(4, WOOL), Strand(4, ACRYLIC), Unlike.FIBRES),
        (Strand(4, WOOL), Strand(4, {Fibre.WOOL: 80, Fibre.ACRYLIC: 20}), Unlike.FIBRES),
        (Strand(None, WOOL), Strand(4, ACRYLIC), Unlike.FIBRES),
        (Strand(None, WOOL), Strand(None, WOOL), Unlike.NOT_KNOWN),
        (Strand(4, None), Strand(4, None), Unlike.NOT_KNOWN),
        (Strand(4, WOOL), Strand(4, None), Unlike.NOT_KNOWN),
    ],
)
def test_what_may_be_one_colour(one: Strand, other: Strand, why: Unlike | None) -> None:
    assert unlike(one, other) == why
    assert unlike(other, one) == why
