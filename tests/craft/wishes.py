"""Random wishes for hypothesis: stores that just suffice, or just do not; squares kept."""

from random import Random

from hypothesis import strategies as st

from drives.craft.colours.wish import Pattern, Wish
from drives.craft.layout.layout import Layout
from drives.craft.places import Place

from . import colour_reference, reference

NAMES = ("red", "blue", "green", "white", "black", "pink")


@st.composite
def wishes(draw: st.DrawFn, layout: Layout) -> Wish:
    """The stores lie a little above or below the units of the squares; a few are without limit."""
    size = {square.at: square.size for square in reference.squares(layout)}
    places = sorted(size)
    names = NAMES[: draw(st.integers(2, len(NAMES)))]
    some = st.sampled_from(names)
    apart = draw(st.integers(0, 5)) > 0
    kept: dict[Place, str] = {}
    for place in draw(st.lists(st.sampled_from(places), max_size=max(1, len(places) // 4))):
        kept[place] = draw(some)
    units = sum(size[place] ** 2 for place in places if place not in kept)
    spare = draw(st.sampled_from([-2, -1, 0, 0, 0, 1, 2, 5]))
    cuts = sorted(draw(st.integers(0, units)) for _ in names[1:])
    if draw(st.booleans()):  # alike
        cuts = [units * number // len(names) for number in range(1, len(names))]
    bounds = [0, *cuts, max(cuts[-1], units + spare)]
    store: dict[str, int | None] = {
        name: bounds[number + 1] - bounds[number] for number, name in enumerate(names)
    }
    if draw(st.integers(0, 3)) == 0:
        store[draw(some)] = None
    at_most = {draw(some): draw(st.integers(0, len(places)))} if draw(st.booleans()) else {}
    choosy = draw(st.lists(st.sampled_from(places), max_size=draw(st.sampled_from([0, 0, 6]))))
    return Wish(
        draw(st.sampled_from(Pattern)),
        store,
        at_most,
        apart,
        kept,
        {place: draw(st.sets(some, min_size=1)) for place in choosy},
        seed=draw(st.integers(1, 9)),
        over_seams=draw(st.booleans()),
    )


def exactly(layout: Layout, random: Random, colours: int) -> Wish | None:
    """A wish that one plan at least fulfils, to the last unit of every colour.

    None where the squares cannot be told apart with so many ``colours``.
    """
    names = NAMES[:colours]
    own = colour_reference.some_plan(layout, Wish(Pattern.FREE, dict.fromkeys(names)))
    if own is None:
        return None
    size = {square.at: square.size for square in reference.squares(layout)}
    joined = colour_reference.joined(layout)
    liked = {name: random.random() ** 3 for name in names}
    for place in random.choices(sorted(size), k=4 * len(size)):
        beside = {own[one] for one, other in joined if other == place}
        beside |= {own[other] for one, other in joined if one == place}
        free = [name for name in names if name not in beside]
        own[place] = max(free, key=lambda name: liked[name] * random.random())
    kept = dict(random.sample(sorted(own.items()), k=random.choice([0, 2, len(size) // 6])))
    store: dict[str, int | None] = dict.fromkeys(names, 0)
    for place, name in own.items():
        if place not in kept:
            store[name] = (store[name] or 0) + size[place] ** 2
    return Wish(random.choice(list(Pattern)), store, kept=kept)
