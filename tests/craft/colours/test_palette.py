"""What is wrong with a palette."""

import pytest

from drives.craft.colours.palette import PaletteFault, palette_faults

STORE = ("Navy", "rust")


@pytest.mark.parametrize(
    ("palette", "faults"),
    [
        ([("Navy", False), ("sunset", True)], {}),
        ([("navy", False)], {0: PaletteFault.NOT_IN_STORE}),
        ([("Navy", False), ("Navy", False)], {1: PaletteFault.TWICE}),
        ([("sunset", True), ("Sunset", True)], {1: PaletteFault.TWICE}),
        ([("NAVY", True)], {0: PaletteFault.IN_STORE}),
        ([("Navy", False), ("navy", True)], {1: PaletteFault.TWICE}),
        ([("", True), ("", False), ("rust", False)], {}),
        (
            [("moss", False), ("rust", True)],
            {0: PaletteFault.NOT_IN_STORE, 1: PaletteFault.IN_STORE},
        ),
    ],
)
def test_each_fault_is_told_by_the_number_of_its_colour(
    palette: list[tuple[str, bool]], faults: dict[int, PaletteFault]
) -> None:
    assert palette_faults(palette, STORE) == faults
