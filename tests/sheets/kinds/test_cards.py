"""Square cards, read back from the finished PDF."""

import re
from typing import Any

import pytest
from django.test import Client
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from accounts.models import Member
from drives.craft.knitter import Hand
from drives.craft.layout.layout import Large, Layout, Mitre
from drives.craft.places import Place
from drives.craft.receivers.cautions import FOR_BABIES, Caution
from drives.models import Blanket, Paper, Print, Yarn
from drives.sheets.kinds import CARDS
from drives.sheets.kinds.cards import TEXT_SIZES
from drives.words.cautions import caution_words
from tests.cast import Cast
from tests.craft.layouts import layouts
from tests.desk import Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed
from tests.sheets.pictures import colourful, letter_height
from tests.store import new_yarn

LONGEST = "Wilhelmina-Alexandrina Featherstonehaugh of Woolfardisworthy"  # 60 characters
LEFT = re.compile(r"(\d+): (\d+) left")
STEP = re.compile(r"(?:[Cc]ast on|[Pp]ick up and knit) (\d+)")
PAPERS = {Paper.A4: (210, 297), Paper.LETTER: (8.5 * 25.4, 11 * 25.4)}


def cards(blanket: Blanket, cast: Cast, *places: str, **chosen: Any) -> Printed:
    return Printed(ask(blanket, cast, kind=CARDS, places=places, **chosen))


def figures(printed: Printed) -> list[str]:
    """What is read out instead of each picture."""
    return [str(tag["/Alt"]) for tag in printed.tags() if tag["/S"] == "/Figure"]


def test_tells_all_that_is_needed_to_knit_the_square(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    printed = cards(desk.blanket, cast, "B1")
    for words in (
        "B1 Vera, due 16 November 2026",
        "Blanket · Warm laps · Harbour Lane · printed 2 Nov 2026",
        "Cast on 19 (any cast-on; long-tail is usual).",
        "Pick up and knit 21 up the right edge of A1 (one in each of its 20 ridges, and one in the",
        "Together 40 stitches. The marker goes into step 2, after its first stitch.",
        "In the order of work of a right-handed knitter.",
        "1 (WS) k20, slip marker, k20",
        "2, 4 … 38 (RS) knit to 2 before the marker, k2tog, slip marker, ssk",
        "20 ridges of two rows: tick a box for each",
        "10: 20 left",
        "20: 1 left",
        "ssk slip 2 stitches knitwise",
        "count your markers and pins",
        *(caution.detail for caution in caution_words(*FOR_BABIES, Caution.STOP)),
        "Scan the code and press the button there, or tell the coordinator.",
    ):
        assert words in printed.words
    assert "Taken by" not in printed.words
    assert len(printed.pages) == 1
    assert figures(printed) == [
        "The foundation of B1, right-handed",
        "Boxes to tick for the ridges 1 to 20",
        "Code that opens the page of square B1",
    ]


def test_who_has_it_decides_the_hand_and_else_who_asks(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    Member.objects.filter(pk=cast.paul.pk).update(hand=Hand.LEFT)
    desk.claim("B1", cast.paul, by=cast.cora)
    held = cards(desk.blanket, cast, "B1", hand=Hand.RIGHT).words
    assert "The first stitches Pick up and knit 21 down the right edge of A1" in held
    assert "a left-handed knitter" in held
    free = cards(desk.blanket, cast, "A2", hand=Hand.LEFT).words
    assert "Taken by due" in free
    assert "The first stitches Cast on 19" in free
    assert "a left-handed knitter" in free


def test_without_names_all_that_are_ready_are_printed_best_first(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    printed = cards(desk.blanket, cast)
    assert [page[:2] for page in printed.pages] == ["B1", "A2"]
    desk.claim("B1", cast.vera)
    desk.claim("A2", cast.olga)
    assert "No square can be begun just now" in cards(desk.blanket, cast).words


@pytest.mark.parametrize("paper", list(Paper))
def test_two_are_cut_apart_in_the_middle(desk: Desk, cast: Cast, paper: Paper) -> None:
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    cast.vera.name = LONGEST
    cast.vera.save(update_fields=["name"])
    printed = cards(desk.blanket, cast, "B1", "A2", paper=paper, to_a_page=2)
    assert len(printed.pages) == 1
    assert printed.size_mm() == pytest.approx(PAPERS[paper], abs=0.01)
    assert f"B1 {LONGEST}, due 16 November 2026" in printed.words
    assert printed.words.count("Finished? Scan the code") == 2


def test_a_square_too_large_for_a_page_goes_on_and_numbers_its_pages(cast: Cast) -> None:
    layout = Layout(11, 11, 200, mitre=Mitre.CENTRED, large=frozenset([Large(Place(2, 2), 10)]))
    printed = cards(new_blanket(cast.olga, layout), cast, "B2")
    assert len(printed.pages) == 3
    assert all(f"page {number} of 3" in page for number, page in enumerate(printed.pages, 1))
    assert "Not yet: first must be finished A2, A3" in printed.words
    assert "Pick up and knit 200 up the right edge of A11" in printed.words
    assert "Together 4001 stitches. Mark the one stitch picked up in the corner" in printed.words
    assert "2000 ridges of two rows" in printed.words
    assert LEFT.findall(printed.words) == [
        (str(ridge), str(4001 - 2 * ridge)) for ridge in range(10, 2001, 10)
    ]


def test_large_print_is_large_and_whole(desk: Desk, cast: Cast) -> None:
    usual, large = (cards(desk.blanket, cast, "A1", print=size, to_a_page=2) for size in Print)
    for words in ("Finished?", "Together 40", "10: 20 left"):
        assert letter_height(large.bytes, words) > 1.4 * letter_height(usual.bytes, words)
    (stop,) = caution_words(Caution.STOP)
    for words in ("ssk slip 2 stitches", "20: 1 left", stop.detail):
        assert words in large.words


def test_american_terms_and_black_ink_can_be_asked_for(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(2, 1, 20, mitre=Mitre.CENTRED)))
    desk.blanket.squares.update(colour="teal")
    usual = cards(desk.blanket, cast, "A1")
    assert "centred double decrease" in usual.words
    assert "colour: teal" in usual.words
    assert colourful(usual.bytes) > 0
    other = cards(desk.blanket, cast, "A1", english="american", ink="black")
    assert "centered double decrease" in other.words
    assert "color: teal" in other.words
    assert colourful(other.bytes) == 0


def test_the_card_names_the_dye_lot_as_it_is_called_now(desk: Desk, cast: Cast) -> None:
    yarn = new_yarn(cast.cora, dye_lot="A")
    desk.blanket.squares.update(colour="Navy", dye_lot=yarn)
    assert "colour: Navy, Dye lot A" in cards(desk.blanket, cast, "A1").words
    Yarn.objects.update(dye_lot="77 b")  # as change_yarn does: an event of the circle alone
    assert "colour: Navy, Dye lot 77 b" in cards(desk.blanket, cast, "A1").words


def test_is_tagged_with_its_fonts_inside(desk: Desk, cast: Cast) -> None:
    printed = cards(desk.blanket, cast)
    assert printed.root["/MarkInfo"]["/Marked"]
    assert b"pdfuaid:part" in printed.root["/Metadata"].get_data()
    assert printed.pdf.metadata
    assert printed.pdf.metadata.title == "Square cards: Blanket"
    kinds = [element["/S"] for element in printed.tags()]
    assert (kinds.count("/H1"), kinds.count("/H2")) == (1, 3)
    assert {"/L", "/LI", "/P"} <= set(kinds)
    assert all(figures(printed))
    assert all("/FontFile2" in font for font in printed.fonts().values())


def test_sizes_go_down() -> None:
    assert all(sorted(sizes, reverse=True) == list(sizes) for sizes in TEXT_SIZES.values())


@given(st.data())
@settings(
    max_examples=4,
    derandomize=True,
    deadline=None,
    phases=[Phase.generate],  # to shrink one takes minutes
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_counts_on_paper_are_those_of_the_api(cast: Cast, data: st.DataObject) -> None:
    hand = data.draw(st.sampled_from(Hand))
    blanket = new_blanket(cast.olga, data.draw(layouts(most=5)))
    of = blanket.plan().places
    names = {str(of[data.draw(st.integers(0, len(of) - 1))]) for _ in range(2)}
    text = cards(blanket, cast, *names, hand=hand).words
    assert cast.olga.user
    Member.objects.filter(pk=cast.olga.pk).update(hand=hand)
    client = Client()
    client.force_login(cast.olga.user)
    for name in names:
        told = client.get(f"/api/v1/blankets/{blanket.pk}/squares/{name}/").json()
        card = text[text.index(f"{name} Taken by") :]
        steps, rest = card.split("Together ", 1)
        assert [int(count) for count in STEP.findall(steps)] == [
            step["stitches"] for step in told["foundation"]
        ]
        assert int(rest.split()[0]) == told["total"]
        ridges, left = rest.split(" of two rows", 1)
        after = [row["stitches"] for row in told["rows"] if row["side"] == "RS"]
        assert ridges.split()[-2] == str(len(after))
        tens = [*range(10, len(after), 10), len(after)]
        assert LEFT.findall(left)[: len(tens)] == [(str(at), str(after[at - 1])) for at in tens]
