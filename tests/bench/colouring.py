"""Colour plans for 24 × 30 squares and 12 colours against OR-tools CP-SAT, on the same store.

CP-SAT is asked for any plan, on one thread; ours also follows a pattern. The store suffices to the
last square, in shares as uneven as leftovers are.
"""

from collections.abc import Iterator
from functools import partial
from random import Random

from drives.craft.colours.plan import Coloured, Impossible, colour_plan
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan

from ..craft import colour_reference
from .figures import Figure, milliseconds, side_by_side

LAYOUT = Layout(24, 30, 20)
COLOURS = 12


def figures() -> Iterator[Figure]:
    """Twice, as there is a plan and as there is none."""
    enough, short = Wish(Pattern.BANDS, store(0)), Wish(Pattern.BANDS, store(-1))
    assert isinstance(colour_plan(plan(LAYOUT), enough), Coloured)
    assert isinstance(colour_plan(plan(LAYOUT), short), Impossible)
    yield _figure("colour plan of 720 squares, 12 colours / CP-SAT", enough)
    yield _figure("that one square is short / CP-SAT", short)


def store(spare: int) -> dict[str, int | None]:
    """720 squares and ``spare`` ones, shared out by chance."""
    squares = LAYOUT.columns * LAYOUT.rows
    cuts = sorted(Random(1).sample(range(1, squares), k=COLOURS - 1))
    bounds = zip([0, *cuts], [*cuts, squares + spare], strict=True)
    return {f"colour {number}": end - start for number, (start, end) in enumerate(bounds, 1)}


def _figure(name: str, wish: Wish) -> Figure:
    ours, floor = side_by_side(
        lambda: colour_plan(plan(LAYOUT), wish),
        partial(colour_reference.possible, LAYOUT, wish, effort=60),
        times=1,
    )
    return Figure(name, milliseconds(ours), milliseconds(floor), ours / floor, 0.5, at_least=False)
