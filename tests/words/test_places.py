"""What is said to somebody who types a place that is none."""

import pytest

from drives.craft.places import Place
from drives.words.places import place_named


def test_a_place_is_found_by_its_name() -> None:
    assert place_named(" c4 ") == Place(3, 4)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("north", "“north” is not the name of a place; places look like C4."),
        ("x" * 1000, f"“{'x' * 20}” is not the name of a place; places look like C4."),
        ("eu1", "EU1 lies outside the largest blanket (150 × 150)."),
    ],
)
def test_other_names_are_refused_in_a_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(ValueError) as refused:
        place_named(typed)
    assert str(refused.value) == sentence
