"""Names in a row."""

import pytest

from shared.basics.lists import either, listed


@pytest.mark.parametrize(
    ("names", "all_of_them", "any_of_them"),
    [
        ([], "", ""),
        (["A1"], "A1", "A1"),
        (["A1", "B1"], "A1 and B1", "A1 or B1"),
        (["A1", "B1", "C1"], "A1, B1 and C1", "A1, B1 or C1"),
    ],
)
def test_names_in_a_row(names: list[str], all_of_them: str, any_of_them: str) -> None:
    assert (listed(names), either(names)) == (all_of_them, any_of_them)
