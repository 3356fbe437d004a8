"""Usual practice by country; the receiver's own rules come first."""

import pytest

from drives.craft.receivers.cautions import Caution, cautions


def told(found: tuple[Caution, ...]) -> str:
    assert all(caution.source for caution in found)
    return " ".join(caution.detail for caution in found)


@pytest.mark.parametrize("country", ["GB", "US", "DE", ""])
@pytest.mark.parametrize("babies", [True, False])
def test_the_receiver_comes_first_and_the_hands_last(country: str, babies: bool) -> None:
    found = cautions(country, for_babies=babies)
    assert "receiver’s own rules come first" in found[0].detail
    assert "Stop at pain" in found[-1].detail
    assert ("sleeps" in told(found)) == ("fringe" in told(found)) == babies


def test_safe_sleep_differs_by_country() -> None:
    # American Academy of Pediatrics 2022: no blankets or soft bedding under one year
    american = cautions("us", for_babies=True)
    assert any("Pediatrics 150(1)" in caution.source for caution in american)
    assert "under one year" in told(american)
    # Scottish Cot Death Trust: light, tucked in, no higher than the shoulders, feet to foot
    british = cautions("GB", for_babies=True)
    assert any(caution.source == "Scottish Cot Death Trust" for caution in british)
    for word in ("light", "tucked in", "shoulders", "foot of the cot"):
        assert word in told(british)
        assert word not in told(american)
    elsewhere = told(cautions("NZ", for_babies=True))
    assert "under one year" in elsewhere
    assert "Academy" not in elsewhere
    assert "tucked" not in elsewhere


def test_wheelchairs_only_where_they_are_meant() -> None:
    assert "wheels" in told(cautions("GB", for_wheelchairs=True))
    assert "restraint" in told(cautions("GB", for_wheelchairs=True))
    assert "wheels" not in told(cautions("GB"))
