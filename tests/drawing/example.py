"""The blanket of the README's picture, invented. To draw it anew:

python -m tests.drawing.example > shared/static/mitrewise/map-example.svg
"""

import sys

from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.layout.states import state
from drives.craft.places import Place
from drives.drawing import map_svg
from drives.drawing.colours import YARNS

COLOURS = ("mustard", "rust", "cream", "teal", "sage")


def example() -> str:
    """8 × 6 units with one large square, about half of them knitted; one square is late."""
    large = Large(Place(4, 3), 2)
    blanket = plan(Layout(8, 6, 20, large=frozenset({large})))
    finished = frozenset(blanket.places[:21])
    taken = frozenset({Place(2, 6), Place(6, 2), Place(8, 1)})
    return map_svg(
        blanket,
        {place: state(blanket, place, finished=finished, taken=taken) for place in blanket.places},
        title="A blanket of 8 × 6 units in mid-progress: finished squares at the bottom left",
        late=frozenset({Place(2, 6)}),
        mine=frozenset({Place(6, 2)}),
        colours={place: YARNS[COLOURS[(place.column - place.row) % 5]] for place in blanket.places},
    )


if __name__ == "__main__":
    sys.stdout.write(f"{example()}\n")
