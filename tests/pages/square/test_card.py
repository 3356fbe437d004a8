"""The square card."""

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from drives.craft.layout.layout import Large, Layout, Mitre
from drives.craft.places import Place
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words


def card(desk: Desk, place: str) -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/"


# TRADE.md, section 3 (n = 20, paired, right-handed).
@pytest.mark.parametrize(
    ("place", "steps"),
    [
        ("A1", "Cast on 40 (any cast-on; long-tail is usual). Together 40 stitches."),
        ("B1", "Cast on 19 (any cast-on; long-tail is usual). Pick up and knit 21 up the right"),
        ("A2", "Pick up and knit 21 along the top edge of A1 (one in each of its 20 ridges, and"),
        ("B2", "Pick up and knit 20 along the top edge of B1 (one in each of its 20 ridges)."),
    ],
)
def test_the_steps_have_the_exact_counts(vera: Reader, plan: Plan, place: str, steps: str) -> None:
    assert steps in vera.read(card(plan(), place))


def test_a_ready_square_can_be_taken_with_one_press(vera: Reader, plan: Plan) -> None:
    text = vera.read(card(plan(), "A1"))
    assert text.startswith("Harbour Lane › Warm laps › Blanket A1 ready It can be begun now.")
    assert "Take A1" in text


def test_a_waiting_square_names_what_must_be_finished_first(vera: Reader, plan: Plan) -> None:
    text = vera.read(card(plan(), "B2"))
    assert "It cannot be begun yet. First must be finished: A2, B1." in text
    assert "Take B2" not in text


def test_the_knitter_reads_the_marker_rows_and_cautions(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan(for_babies=True)
    desk.claim("A1", cast.vera, at=timezone.now())
    text = vera.read(card(desk, "A1"))
    assert "The marker goes in the middle, after 20 stitches." in text
    assert (
        "Row 1 of 40 wrong side k20, slip marker, k20 Then 40 stitches are on the needle." in text
    )
    assert "40 RS remove marker, k2tog, fasten off 1" in text
    assert "k2tog knit 2 stitches together" in text
    assert "Keep loose blankets out of the place where a baby under one year sleeps" in text
    assert "Stop at pain, tingling or numbness." in text
    assert "A1 is finished Give it back unfinished" in text


def test_others_see_who_has_it_and_no_buttons(cast: Cast, plan: Plan, olga: Reader) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera, at=timezone.now())
    text = olga.read(card(desk, "A1"))
    due = timezone.localtime(claim.due_at)
    assert f"It is in Vera’s hands until {due:%-d %B}." in text
    assert "Give it back unfinished" not in text
    assert "For Vera Finished: A1 Give back: A1" in text


def test_it_is_written_for_the_hand_of_who_knits_it(cast: Cast, cora: Reader, plan: Plan) -> None:
    cast.paul.hand = "left"
    cast.paul.save(update_fields=["hand"])
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    text = cora.read(card(desk, "B1"))
    assert text.index("Pick up and knit 21 down the right edge of A1") < text.index("Cast on 19")
    assert "a left-handed knitter" in text
    assert "a right-handed knitter" in cora.read(card(desk, "B1"), {"hand": "right"})
    assert "a left-handed knitter" in cora.read(card(desk, "B1"), {"hand": "both"})


def test_a_finished_square_tells_who_knitted_it_and_what_stands_on_it(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera, at=timezone.now())
    text = vera.read(card(desk, "A1"))
    assert "Knitted by Vera, finished on 2 November 2026." in text
    assert "What stands on it B1 taken A2 ready" in text
    assert "Rip it back" not in text


def test_a_large_square_has_as_many_rows_as_its_side_asks_for(vera: Reader, plan: Plan) -> None:
    layout = Layout(2, 2, 20, large=frozenset({Large(Place(1, 1), 2)}))
    text = vera.read(card(plan(layout=layout), "A1"))
    assert "Cast on 80" in text
    assert "Every one of the 80 rows" in text


def test_the_centred_mitre_marks_its_middle_stitch(vera: Reader, plan: Plan) -> None:
    text = vera.read(card(plan(layout=Layout(1, 1, 20, mitre=Mitre.CENTRED)), "A1"))
    assert "Cast on 41" in text
    assert "Mark stitch 21, the middle one." in text
    assert "cdd centred double decrease" in text


TURN = "Turn: row 1 is a WS row."
STRAIGHT_ON = "Row 1 (WS) begins on the stitches just cast on, without another turn."
AFTER_4 = "The marker goes into step 1, after its first 4 stitches."
AFTER_1 = "The marker goes into step 2, after its first stitch."
BETWEEN = "The marker goes between step 1 and step 2."
FIFTH = "Mark stitch 5 of step 1: it is the middle stitch, in the corner."
FIRST = "Mark stitch 1 of step 2: it is the middle stitch, in the corner."
CORNER = "Mark the one stitch picked up in the corner: it is the middle stitch."


# TRADE.md, section 3, with n = 4: base, side join, top join, corner join for either hand.
@pytest.mark.parametrize(
    ("mitre", "place", "hand", "marker", "begin"),
    [
        (Mitre.PAIRED, "A1", "right", "in the middle, after 4 stitches.", TURN),
        (Mitre.PAIRED, "A1", "left", "in the middle, after 4 stitches.", TURN),
        (Mitre.PAIRED, "B1", "right", AFTER_1, TURN),
        (Mitre.PAIRED, "B1", "left", AFTER_4, STRAIGHT_ON),
        (Mitre.PAIRED, "A2", "right", AFTER_4, STRAIGHT_ON),
        (Mitre.PAIRED, "A2", "left", AFTER_1, TURN),
        (Mitre.PAIRED, "B2", "right", BETWEEN, TURN),
        (Mitre.PAIRED, "B2", "left", BETWEEN, TURN),
        (Mitre.CENTRED, "A1", "right", "Mark stitch 5, the middle one.", TURN),
        (Mitre.CENTRED, "A1", "left", "Mark stitch 5, the middle one.", TURN),
        (Mitre.CENTRED, "B1", "right", FIRST, TURN),
        (Mitre.CENTRED, "B1", "left", FIFTH, STRAIGHT_ON),
        (Mitre.CENTRED, "A2", "right", FIFTH, STRAIGHT_ON),
        (Mitre.CENTRED, "A2", "left", FIRST, TURN),
        (Mitre.CENTRED, "B2", "right", CORNER, TURN),
        (Mitre.CENTRED, "B2", "left", CORNER, TURN),
    ],
)
def test_the_marker_and_row_1_fit_the_foundation(
    vera: Reader, plan: Plan, mitre: Mitre, place: str, hand: str, marker: str, begin: str
) -> None:
    text = vera.read(card(plan(layout=Layout(2, 2, 4, mitre)), place), {"hand": hand})
    total = 8 if mitre is Mitre.PAIRED else 9
    assert f"Together {total} stitches." in text
    assert marker in text
    assert begin in text
    # The first row goes over the whole foundation, whichever hand and whatever was cast on last.
    first = "k4, slip marker, k4" if mitre is Mitre.PAIRED else "k9"
    assert f"1 (WS): {first}. Leaves {total} stitches." in text
    assert f"1 WS {first} {total} 2 RS" in text


def test_the_rows_come_in_a_short_form_and_in_full(vera: Reader, plan: Plan) -> None:
    text = vera.read(card(plan(layout=Layout(1, 1, 4)), "A1"))
    assert (
        "2, 4 … 6 (RS): knit to 2 before the marker, k2tog, slip marker, ssk, knit to the end "
        "(2 fewer each time). Leaves 2 stitches." in text
    )
    assert "8 (RS): remove marker, k2tog, fasten off. Leaves 1 stitch." in text
    full = text[text.index("Every one of the 8 rows Row Do Stitches") :]
    assert (
        "1 WS k4, slip marker, k4 8 2 RS k2, k2tog, slip marker, ssk, k2 6 "
        "3 WS k3, slip marker, k3 6 4 RS k1, k2tog, slip marker, ssk, k1 4 "
        "5 WS k2, slip marker, k2 4 6 RS k2tog, slip marker, ssk 2 "
        "7 WS k1, slip marker, k1 2 8 RS remove marker, k2tog, fasten off 1" in full
    )


def test_the_reader_chooses_british_or_american_terms(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan(layout=Layout(2, 2, 20, mitre=Mitre.CENTRED))
    desk.blanket.squares.update(colour="sea green")
    address = card(desk, "A1")
    assert "Colour: sea green" in vera.read(address)
    american = vera.read(address, {"english": "american", "hand": "left"})
    assert "cdd centered double decrease" in american
    assert "Color: sea green" in american
    assert "a left-handed knitter" in american
    assert (
        "?hand=left&amp;english=british" in vera.get(address + "?english=american&hand=left").text
    )
    cast.circle.english = "american"
    cast.circle.save(update_fields=["english"])
    assert "cdd centered double decrease" in vera.read(address)
    assert "cdd centred double decrease" in vera.read(address, {"english": "british"})
    assert "cdd centered double decrease" in vera.read(address, {"english": "welsh"})


def test_places_that_are_none_are_not_found(vera: Reader, stan: Reader, plan: Plan) -> None:
    desk = plan()
    for place in ("C1", "A0", "nowhere"):
        assert vera.get(card(desk, place)).status_code == 404
    assert stan.get(card(desk, "A1")).status_code == 404


@pytest.mark.parametrize("side", [10, 40])
def test_the_card_takes_as_many_queries_at_any_size(
    vera: Reader, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries, side: int
) -> None:
    address = card(plan(side, side), "A1")
    assert vera.get(address).status_code == 200
    with django_assert_num_queries(6):
        words(vera.get(address))
