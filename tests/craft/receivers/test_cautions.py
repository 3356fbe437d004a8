"""Usual practice by country; the receiver's own rules come first."""

import pytest

from drives.craft.receivers.cautions import FOR_BABIES, FOR_WHEELCHAIRS, Caution, in_use

AMERICAN, BRITISH = Caution.AMERICAN_SLEEP, Caution.BRITISH_SLEEP


@pytest.mark.parametrize(
    ("country", "sleep"),
    [
        ("us", [AMERICAN]),
        ("GB", [Caution.GENERAL_SLEEP, BRITISH]),
        ("NZ", [Caution.GENERAL_SLEEP]),
        ("", [Caution.GENERAL_SLEEP]),
    ],
)
def test_safe_sleep_differs_by_country(country: str, sleep: list[Caution]) -> None:
    assert in_use(country, for_babies=True) == (*sleep, *FOR_BABIES)
    assert in_use(country) == ()


def test_each_says_who_says_so() -> None:
    # American Academy of Pediatrics 2022: no blankets or soft bedding under one year
    assert "Pediatrics 150(1)" in AMERICAN.source
    # Scottish Cot Death Trust: light, tucked in, no higher than the shoulders, feet to foot
    assert BRITISH.source == "Scottish Cot Death Trust"
    assert all(caution.source for caution in Caution)


def test_wheelchairs_only_where_they_are_meant() -> None:
    assert in_use("GB", for_wheelchairs=True) == FOR_WHEELCHAIRS
