"""The largest blankets are answered in bounded time, whatever is wanted of their colours."""

import time
from random import Random

import pytest

from drives.craft.colours.plan import colour_plan, still_possible
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place

LARGEST = plan(Layout(150, 150, 20))
SECONDS = 12  # of the processor; three on a machine of 2026 that has nothing else to do


def store(squares: int, colours: int) -> dict[str, int | None]:
    """Just as many, in shares as uneven as leftovers are."""
    cuts = sorted(Random(1).sample(range(1, squares), k=colours - 1))
    bounds = zip([0, *cuts], [*cuts, squares], strict=True)
    return {f"colour {number}": end - start for number, (start, end) in enumerate(bounds, 1)}


@pytest.mark.parametrize("pattern", [Pattern.CHEQUERED, Pattern.SCATTERED])
def test_a_plan_of_24_colours(pattern: Pattern) -> None:
    begun = time.process_time()
    colour_plan(LARGEST, Wish(pattern, store(150 * 150, 24)), effort=80_000)
    assert time.process_time() - begun < SECONDS


def test_the_colours_that_one_square_may_have() -> None:
    begun = time.process_time()
    wish = Wish(Pattern.FREE, store(150 * 150, 24))
    still_possible(LARGEST, wish, Place(1, 1), effort=20_000)
    assert time.process_time() - begun < SECONDS
