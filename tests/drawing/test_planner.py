"""The planner's map: each square, each missing place and each boundary can be pressed."""

from functools import partial

from hypothesis import given

from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.places import Place
from drives.drawing import planner_svg
from drives.drawing.planner import PIXELS
from drives.words.map import boundary_words, place_words
from tests.craft.layouts import grid_of, layouts

from .boards import often
from .reading import all_of, lines, outside, read


def drawn(layout: Layout, **more: object) -> str:
    wanted: dict[str, object] = {
        "title": "Plan",
        "place_link": lambda place: f"?press={place}",
        "seam_link": lambda one, other: f"?press={one}-{other}",
        "place_label": partial(place_words, layout),
        "seam_label": partial(boundary_words, layout),
    }
    return planner_svg(layout, **(wanted | more))  # type: ignore[arg-type]


@often
@given(layouts(8))
def test_every_square_every_missing_place_and_every_boundary_is_one_link(layout: Layout) -> None:
    root = read(drawn(layout))

    grid = grid_of(layout.columns, layout.rows)
    owner = {place: place for place in grid}
    owner |= {unit: square.at for square in layout.large for unit in square.units()}
    beside = [(at, Place(at.column + 1, at.row)) for at in grid]
    above = [(at, Place(at.column, at.row + 1)) for at in grid]
    between = [pair for pair in beside + above if pair[1] in owner]
    wanted = [f"?press={place}" for place in sorted(set(owner.values()))]
    wanted += [f"?press={a}-{b}" for a, b in between if owner[a] != owner[b]]
    pressed = [link.attrib["href"] for link in all_of(root, "a")]
    assert sorted(pressed) == sorted(wanted)
    assert not outside(root)


@often
@given(layouts(8))
def test_seams_and_missing_places_are_told_in_words_too(layout: Layout) -> None:
    root = read(drawn(layout))

    def labels(kind: str) -> set[str]:
        return {link.attrib["aria-label"] for link in all_of(root, "a", kind)}

    assert labels("missing") == {f"{place}, missing" for place in layout.missing}
    assert labels("seam") == {f"Between {one} and {other}: a seam" for one, other in layout.seams}
    assert len(all_of(root, "path", "seam")) <= 2
    assert sum(len(lines(path)) for path in all_of(root, "path", "seam")) == len(layout.seams)


def test_each_target_is_large_enough_for_a_finger() -> None:
    """24 CSS pixels each way: WCAG 2.2, 2.5.8 Target Size (Minimum)."""
    root = read(drawn(Layout(20, 3, 20)))

    scale = float(root.attrib["width"]) / float(root.attrib["viewBox"].split()[2])
    assert "map-wide" in root.attrib["class"]  # keeps its width and scrolls
    for rect in all_of(root, "rect"):
        assert float(rect.attrib["width"]) * scale >= 23.9
        assert float(rect.attrib["height"]) * scale >= 23.9
    assert PIXELS == 72


def test_a_boundary_lies_between_the_two_places_that_it_names() -> None:
    root = read(drawn(Layout(2, 2, 20)))

    at = {
        link.attrib["href"].removeprefix("?press="): [
            float(all_of(link, "rect")[0].attrib[name]) for name in ("x", "y", "width", "height")
        ]
        for link in all_of(root, "a")
    }
    middle = {name: (x + width / 2, y + height / 2) for name, (x, y, width, height) in at.items()}
    (x, y), (beside, _), (_, above) = middle["A1"], middle["B1"], middle["A2"]
    assert middle["A1-B1"] == ((x + beside) / 2, y)
    assert middle["A1-A2"] == (x, (y + above) / 2)


def test_a_layout_that_cannot_be_knitted_is_drawn_all_the_same() -> None:
    wrong = Layout(
        2,
        2,
        20,
        missing=frozenset({Place(1, 1)}),
        large=frozenset({Large(Place(1, 1), 2), Large(Place(2, 2), 3)}),
        seams=frozenset({Seam(Place(5, 5), Place(6, 5))}),
    )

    assert all_of(read(drawn(wrong)), "a", "place")


def test_live_links_are_fetched_by_htmx_from_the_same_address() -> None:
    root = read(drawn(Layout(2, 1, 20), live=True, place_link=lambda at: f"?a=1&press={at}"))

    for link in all_of(root, "a"):
        assert link.attrib["hx-get"] == link.attrib["href"]
    keys = [link.attrib["id"] for link in all_of(root, "a")]
    assert keys == ["planner-A1", "planner-A1-B1", "planner-B1"]  # keep the focus at a swap
    assert all_of(root, "a", "place")[0].attrib["href"] == "?a=1&press=A1"
