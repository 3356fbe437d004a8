"""The finishing list, read back from the finished PDF."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Gift, Paper
from drives.sheets.kinds import FINISHING
from tests.cast import Cast
from tests.desk import Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.kinds.test_status import SIZES, everything_finished
from tests.sheets.paper import Printed


def finishing(desk: Desk, cast: Cast, **chosen: Any) -> Printed:
    return Printed(ask(desk.blanket, cast, kind=FINISHING, **chosen))


def test_counts_out_what_must_be_counted(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    printed = finishing(desk, cast)
    for words in (
        "Finishing list · Warm laps · Harbour Lane · for Moorside ward",
        "Not yet: 1 of 9 squares are finished.",
        "At least 18, two for each of the 9 squares",
        "At most 9 markers were in use, one to a square.",
        "given out: back:",
        "Nothing may catch a finger or a tube",
        # 3 squares of 20 stitches, 20 stitches to 10 cm.
        "Planned: 30 cm × 30 cm, without a border.",
        "width: height:",
        "the yarn’s band says: washed on:",
        "fibres, from the bands; unknown if unknown:",
        "Keep loose blankets out of the place where a baby under one year sleeps",
        "The receiver's own rules come first.",
        "name day signature looked over by day signature",
    ):
        assert words in printed.words
    assert len(printed.pages) == 1
    assert printed.size_mm() == pytest.approx(SIZES[Paper.A4], abs=0.01)
    assert "Seams sewn" not in printed.words
    # It is tagged with a heading for each job.
    kinds = [element["/S"] for element in printed.tags()]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == kinds.count("/LI") + 2
    assert printed.pdf.metadata is not None
    assert printed.pdf.metadata.title == "Blanket: finishing list"


def test_a_seam_beside_an_empty_place_is_not_sewn(cast: Cast) -> None:
    seam = frozenset([Seam(Place(1, 1), Place(2, 1))])
    layout = Layout(2, 2, 20, seams=seam, missing=frozenset([Place(2, 1)]))
    assert "seam" not in finishing(Desk(new_blanket(cast.olga, layout)), cast).words


def test_says_what_is_known_of_the_finished_blanket(cast: Cast) -> None:
    layout = Layout(2, 2, 20, seams=frozenset([Seam(Place(1, 1), Place(2, 1))]))
    desk = Desk(new_blanket(cast.olga, layout))
    everything_finished(desk.blanket, cast)
    Gift.objects.create(
        blanket=desk.blanket,
        width=Decimal("20.5"),
        height=Decimal(21),
        fibres="80% acrylic, 20% nylon",
        care={"wash": "MACHINE_40_MILD", "iron": "NOT"},
        given_on=date(2026, 12, 1),
    )
    words = finishing(desk, cast).words
    for told in (
        "1 edge of one square’s length is a seam",
        "dropped stitches, open corners",
        "Measured: 20.5 cm × 21 cm.",
        "80 % acrylic, 20 % polyamide",
        "Wash in the machine at 40 °C at most, on a mild cycle. Do not iron. washed on:",
    ):
        assert told in words
    for told in ("Not yet:", "width:", "a baby", "band says", "not known"):
        assert told not in words


def test_speaks_inches_and_american_to_who_does(desk: Desk, cast: Cast) -> None:
    desk.blanket.drive.circle.units = "in"
    desk.blanket.drive.circle.save(update_fields=["units"])
    Gift.objects.create(blanket=desk.blanket, fibres="100 % polyamide")
    words = finishing(desk, cast, english="american").words
    # 30 cm are 11.8 inches, told to the half.
    assert "Planned: 12 in × 12 in" in words
    assert "100 % nylon" in words
    assert "Nov. 2, 2026" in words


def test_large_print_goes_on_whole_jobs_to_a_page(desk: Desk, cast: Cast) -> None:
    printed = finishing(desk, cast, paper=Paper.LETTER, print="large")
    assert len(printed.pages) == 2
    assert "signature" in printed.pages[1]
    assert printed.size_mm() == pytest.approx(SIZES[Paper.LETTER], abs=0.01)
