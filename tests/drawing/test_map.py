"""The map: every square where it belongs, named and linked once, on any layout."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.drawing import map_svg
from drives.drawing.looks import UNIT
from drives.words.map import square_words

from .boards import Board, board, boards, often
from .reading import all_of, lines, outside, read


def drawn(shown: Board, **more: object) -> str:
    wanted: dict[str, object] = {
        "title": "Map",
        "link": lambda place: f"/squares/{place}/",
        "label": lambda place: square_words(shown.plan, place, shown.state_of[place]),
        "late": shown.late,
        "mine": shown.mine,
    }
    return map_svg(shown.plan, shown.state_of, **(wanted | more))  # type: ignore[arg-type]


def small(**more: object) -> Board:
    return board(plan(Layout(3, 3, 20, **more)), 3, 2)  # type: ignore[arg-type]


@often
@given(boards())
def test_every_square_is_one_link_to_it_with_its_state_and_its_joins(shown: Board) -> None:
    links = all_of(read(drawn(shown)), "a", "square")

    assert [link.attrib["id"] for link in links] == [f"map-{at}" for at in shown.plan.places]
    for place, link in zip(shown.plan.places, links, strict=True):
        assert link.attrib["href"] == f"/squares/{place}/"
        assert link.attrib["class"] == f"square {shown.state_of[place]}"
        name, state, joins = link.attrib["aria-label"].split(", ", 2)
        joined = joins.removeprefix("joins onto ").replace(" and ", ", ").split(", ")
        assert (name, state) == (str(place), shown.state_of[place])
        assert joined == [str(support) for support in shown.plan.stands_on[place]] or ["nothing"]


@often
@given(boards())
def test_squares_lie_as_on_a_chess_board_and_inside_the_view(shown: Board) -> None:
    root = read(drawn(shown))

    assert not outside(root)
    layout = shown.plan.layout
    boxes = {}
    for link in all_of(root, "a"):
        (rect,) = all_of(link, "rect")
        boxes[link.attrib["id"]] = [
            float(rect.attrib[key]) for key in ("x", "y", "width", "height")
        ]
    origins = {
        (x - at.column * UNIT, y + (at.row + shown.plan.size[at]) * UNIT)
        for at in shown.plan.places
        for x, y, _, _ in [boxes[f"map-{at}"]]
    }
    assert len(origins) == 1  # one unit to the right for each column, one up for each row
    for at in shown.plan.places:
        assert boxes[f"map-{at}"][2:] == [shown.plan.size[at] * UNIT] * 2
    texts = Counter(text.text for text in all_of(root, "text"))
    assert texts == Counter(map(str, shown.plan.places)) + Counter(
        [str(row) for row in range(1, layout.rows + 1)]
        + ["ABCDEFGHI"[column] for column in range(layout.columns)]
    )


@often
@given(boards())
def test_each_state_is_drawn_for_the_squares_that_are_in_it(shown: Board) -> None:
    root = read(drawn(shown))

    for state in State:
        grounds = [all_of(group, "path")[0] for group in all_of(root, "g", state)]
        count = sum(len(lines(ground)) for ground in grounds)
        assert count == list(shown.state_of.values()).count(state)
    for mark, places in (("late", shown.late), ("mine", shown.mine)):
        grounds = [all_of(group, "path")[0] for group in all_of(root, "g", mark)]
        assert sum(len(lines(ground)) for ground in grounds) == len(places)


@often
@given(boards())
def test_seams_and_missing_places_are_drawn_once_each(shown: Board) -> None:
    root = read(drawn(shown))

    layout = shown.plan.layout
    assert sum(len(lines(path)) for path in all_of(root, "path", "seam")) == len(layout.seams)
    crosses = sum(len(lines(path)) for path in all_of(root, "path", "missing"))
    assert crosses == 2 * len(layout.missing)


def test_a_seam_runs_along_the_edge_between_its_two_places() -> None:
    upright = Seam(Place(1, 2), Place(2, 2))
    level = Seam(Place(3, 1), Place(3, 2))
    root = read(drawn(small(seams=frozenset({upright, level}))))

    boxes = {link.attrib["id"]: all_of(link, "rect")[0].attrib for link in all_of(root, "a")}
    first, second = (lines(path)[0] for path in all_of(root, "path", "seam"))
    x, y = float(boxes["map-B2"]["x"]), float(boxes["map-B2"]["y"])
    assert (first[0], first[-1]) == ((x, y), (x, y + UNIT))
    x, y = float(boxes["map-C1"]["x"]), float(boxes["map-C1"]["y"])
    assert (second[0], second[-1]) == ((x, y), (x + UNIT, y))


@often
@given(st.text(st.characters(codec="utf-8", exclude_categories=["C"])))
def test_words_from_people_stay_words(words: str) -> None:
    shown = small()
    svg = drawn(
        shown,
        title=words,
        label=lambda place: words,
        link=lambda place: f"/?q={words}",
    )

    root = read(svg)
    (title,) = all_of(root, "title")
    assert (title.text or "") == words
    assert {link.attrib["aria-label"] for link in all_of(root, "a")} == {words}
    assert {link.attrib["href"] for link in all_of(root, "a")} == {f"/?q={words}"}


def test_nothing_that_a_strict_content_security_policy_blocks() -> None:
    root = read(drawn(small(), colours={Place(1, 1): "#de8fa5"}))

    names = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert names == {"svg", "title", "g", "path", "text", "a", "rect"}
    attributes = {name for element in root.iter() for name in element.attrib}
    assert "style" not in attributes
    assert not any(name.startswith("on") for name in attributes)


def test_two_maps_on_one_page_share_no_id() -> None:
    shown = small()
    first, second = (
        [element.get("id") for element in read(drawn(shown, prefix=prefix)).iter()]
        for prefix in ("one", "two")
    )

    ids = [one for one in first + second if one]
    assert len(ids) == len(set(ids)) == 2 * (1 + len(shown.plan.places))


def test_a_map_with_links_is_a_group_and_one_without_is_a_picture() -> None:
    shown = small()

    assert read(drawn(shown)).attrib["role"] == "group"
    picture = read(drawn(shown, link=None))
    assert picture.attrib["role"] == "img"
    assert not all_of(picture, "a")
    assert picture.attrib["aria-labelledby"] == all_of(picture, "title")[0].attrib["id"]


def test_a_very_large_map_links_and_names_only_what_can_be_acted_on() -> None:
    shown = board(plan(Layout(61, 2, 20)), 30, 1)
    others = board(plan(Layout(60, 2, 20)), 30, 1)

    linked = {link.attrib["id"] for link in all_of(read(drawn(shown)), "a")}
    assert linked == {
        f"map-{place}"
        for place, state in shown.state_of.items()
        if state in (State.READY, State.TAKEN)
    }
    assert len(all_of(read(drawn(others)), "a")) == 120


@often
@given(boards(), st.data())
def test_a_part_shows_each_square_that_reaches_into_it_whole(
    shown: Board, data: st.DataObject
) -> None:
    layout = shown.plan.layout
    columns = sorted(data.draw(st.integers(1, layout.columns)) for _ in range(2))
    rows = sorted(data.draw(st.integers(1, layout.rows)) for _ in range(2))
    part = Place(columns[0], rows[0]), Place(columns[1], rows[1])

    root = read(drawn(shown, part=part))

    assert not outside(root)
    linked = {link.attrib["id"] for link in all_of(root, "a")}
    assert linked == {
        f"map-{at}"
        for at in shown.plan.places
        if any(
            columns[0] <= unit.column <= columns[1] and rows[0] <= unit.row <= rows[1]
            for unit in Large(at, shown.plan.size[at]).units()
        )
    }
    named = {text.text for text in all_of(root, "text")}
    assert {str(row) for row in range(rows[0], rows[1] + 1)} <= named
