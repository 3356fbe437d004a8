"""The square's diagram: the same counts and the same order as the words."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do
from drives.craft.layout.layout import Layout, Mitre, Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.drawing import square_svg
from drives.drawing.runs import step_runs
from drives.words.diagram import diagram
from drives.words.steps import foundation_lines
from tests.craft.layouts import layouts

from .boards import often
from .reading import all_of, lines, outside, read

SQUARE = plan(Layout(2, 2, 20))
BASE, SIDE_JOIN, TOP_JOIN, CORNER_JOIN = Place(1, 1), Place(2, 1), Place(1, 2), Place(2, 2)


def drawn(thought: Plan, place: Place, hand: Hand = Hand.RIGHT) -> str:
    finished = dict.fromkeys(thought.stands_on[place], State.FINISHED)
    return square_svg(thought, place, hand, state_of=finished, **diagram(thought, place, hand))


def texts(svg: str) -> list[str]:
    return [text.text or "" for text in all_of(read(svg), "text")]


@often
@given(layouts(), st.sampled_from(Hand))
def test_the_steps_cover_the_two_sides_without_gap_or_overlap(layout: Layout, hand: Hand) -> None:
    thought = plan(layout)
    for place in thought.places:
        found = step_runs(thought, place, hand)

        assert found[0].start == 0
        assert found[-1].end == 2 * thought.size[place]
        assert all(one.end == other.start for one, other in pairwise(found))
        in_order = sorted(found)
        assert [run.number for run in in_order] == list(range(1, len(found) + 1))
        steps = thought.foundation(place, hand)
        for run, step in zip(in_order, steps, strict=True):
            assert run.step._replace(how=None) == step._replace(how=None)
            extra = step.stitches - (run.end - run.start) * layout.stitches
            assert extra in {-1, 0, 1}  # the corner trade, or the corner stitch


@often
@given(layouts(), st.sampled_from(Hand), st.data())
def test_every_step_is_numbered_and_counted_and_told_in_words(
    layout: Layout, hand: Hand, data: st.DataObject
) -> None:
    thought = plan(layout)
    place = data.draw(st.sampled_from(thought.places))
    svg = drawn(thought, place, hand)
    root = read(svg)

    assert not outside(root)
    steps = thought.foundation(place, hand)
    assert len(all_of(root, "circle", "step")) == len(steps)
    said = " ".join(texts(svg)).replace(":", "").split()
    for number, step in enumerate(steps, 1):
        assert str(number) in said
        assert str(step.stitches) in said
        assert step.onto is None or str(step.onto) in said
    (desc,) = all_of(root, "desc")
    for line in foundation_lines(thought, place, hand):
        assert line in (desc.text or "")


def test_the_four_kinds_of_squares_show_the_counts_of_the_craft() -> None:
    """TRADE.md, section 3: the table for n = 20."""
    assert "cast on 40" in texts(drawn(SQUARE, BASE))
    assert {"cast on 19", "A1", "pick up 21"} <= set(texts(drawn(SQUARE, SIDE_JOIN)))
    assert {"cast on 19", "A1", "pick up 21"} <= set(texts(drawn(SQUARE, TOP_JOIN)))
    corner = texts(drawn(SQUARE, CORNER_JOIN))
    assert corner.count("pick up 20") == 2
    assert {"A2", "B1", "after 20", "40 stitches"} <= set(corner)


def test_one_tick_for_each_stitch_that_is_picked_up() -> None:
    for place in SQUARE.places:
        ticks = sum(
            len(lines(path)) for path in all_of(read(drawn(SQUARE, place)), "path", "stitches")
        )
        steps = SQUARE.foundation(place)
        assert ticks == sum(step.stitches for step in steps if step.do is Do.PICK_UP)


def test_joins_are_heavy_and_cast_on_edges_dashed() -> None:
    def edges(place: Place) -> tuple[int, int]:
        root = read(drawn(SQUARE, place))
        return len(all_of(root, "path", "join")), len(all_of(root, "path", "cast-on"))

    assert edges(BASE) == (0, 1)
    assert edges(SIDE_JOIN) == edges(TOP_JOIN) == (1, 1)
    assert edges(CORNER_JOIN) == (2, 0)
    assert "stroke-dasharray" in all_of(read(drawn(SQUARE, BASE)), "path", "cast-on")[0].attrib


def test_the_way_of_the_left_hand_is_that_of_the_right_walked_backwards() -> None:
    for place in SQUARE.places:
        right, left = (
            [lines(way)[0] for way in all_of(read(drawn(SQUARE, place, hand)), "path", "way")]
            for hand in Hand
        )
        assert len(right) == len(left) == len(SQUARE.foundation(place))
        for one, other in zip(right, left, strict=True):
            assert one == list(reversed(other))
    (bottom, side) = (
        lines(way)[0] for way in all_of(read(drawn(SQUARE, CORNER_JOIN)), "path", "way")
    )
    assert bottom[0][0] > bottom[-1][0]  # leftwards along the bottom
    assert side[0][1] > side[-1][1]  # then up the left side


def test_the_middle_stitch_of_a_centred_mitre_is_marked() -> None:
    centred = plan(Layout(2, 2, 20, mitre=Mitre.CENTRED))

    assert {"mark", "stitch 21", "41 stitches"} <= set(texts(drawn(centred, BASE)))
    corner = texts(drawn(centred, CORNER_JOIN))
    assert {"pick up 1", "here, mark it", "3"} <= set(corner)


def test_a_seam_is_drawn_where_a_neighbour_is_sewn_on_later() -> None:
    cut = plan(Layout(2, 2, 20, seams=frozenset({Seam(Place(1, 2), Place(2, 2))})))

    assert len(all_of(read(drawn(cut, CORNER_JOIN)), "path", "seam")) == 1
    assert not all_of(read(drawn(SQUARE, CORNER_JOIN)), "path", "seam")
    assert "cast on 19" in texts(drawn(cut, CORNER_JOIN))


def test_a_neighbour_that_is_not_finished_is_said_to_be_so() -> None:
    states = {Place(1, 2): State.FINISHED, Place(2, 1): State.TAKEN}
    svg = square_svg(
        SQUARE, CORNER_JOIN, Hand.RIGHT, state_of=states, **diagram(SQUARE, CORNER_JOIN, Hand.RIGHT)
    )

    assert texts(svg).count("not finished yet") == 1


def test_the_diagram_is_a_picture_with_a_name_and_a_description() -> None:
    root = read(
        square_svg(
            SQUARE, BASE, Hand.LEFT, state_of={}, prefix="one", **diagram(SQUARE, BASE, Hand.LEFT)
        )
    )

    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == all_of(root, "title")[0].attrib["id"] == "one-title"
    assert root.attrib["aria-describedby"] == all_of(root, "desc")[0].attrib["id"] == "one-desc"
    assert all_of(root, "title")[0].text == "The foundation of A1, left-handed"
