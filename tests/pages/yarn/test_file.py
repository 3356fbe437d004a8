"""The yarn store to a file and from one: all of it or nothing, and twice is once."""

import csv
import io
import time
from decimal import Decimal
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pytest_django import DjangoAssertNumQueries

from accounts.models import Event
from drives.audit import audit
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.notation import CARE_CODES
from drives.craft.fibre.treatments import Bleach, Natural, Wash
from drives.craft.yarn.weighing import Swatch
from drives.exports.csv_file import RISKY, defused, fused
from drives.exports.former_care import SENTENCES
from drives.exports.yarn_file import COLUMNS, UnreadableFile, read_rows
from drives.models import Yarn
from tests.cast import Cast
from tests.desk import everything, nothing_changes
from tests.pages.conftest import Reader, words
from tests.store import Shelf, new_yarn

KNOWN: Any = {
    "colour": "=Rose",
    "value": "#808080",
    "dye_lot": "+12",
    "category": 4,
    "fibres": {Fibre.ACRYLIC: 80, Fibre.WOOL: 20},
    "metres_per_100_grams": 200,
    "ball_grams": 50,
    "price": Decimal("2.75"),
    "care": Care(Wash.MACHINE_30_MILD, Bleach.NOT, natural=Natural.FLAT),
    "fast": False,
    "swatch": Swatch(30, 60, 12.5),
    "given_by": "'=HYPERLINK(1)",
    "place": "Cora’s “cupboard”, left; \u2013 top",
}


@pytest.fixture
def shelf(cast: Cast) -> Shelf:
    """100 g of navy, of which nothing is known."""
    return Shelf(new_yarn(cast.cora), cast.cora)


def path(cast: Cast) -> str:
    return f"/circles/{cast.circle.pk}/yarn/file"


def taken(cast: Cast, reader: Reader) -> bytes:
    """The store as a file."""
    answer = reader.get(path(cast) + ".csv")
    return b"".join(answer.streaming_content)


def bring(cast: Cast, reader: Reader, text: str | bytes) -> Any:
    sent = text.encode() if isinstance(text, str) else text
    return reader.post(path(cast) + "/", {"file": SimpleUploadedFile("y.csv", sent)}, follow=True)


def rows(told: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(told.decode("utf-8-sig"), newline="")))


def facts() -> list[dict[str, Any]]:
    """Every yarn, without what only its row knows."""
    found: list[Any] = list(Yarn.objects.order_by("colour", "dye_lot").values())
    return [{name: yarn[name] for name in yarn if name not in ("id", "added_at")} for yarn in found]


def test_the_file_has_the_documented_columns_and_no_formulas(
    cast: Cast, shelf: Shelf, cora: Reader
) -> None:
    new_yarn(cast.cora, 350, **KNOWN)
    answer = cora.get(path(cast) + ".csv")
    rose, navy = rows(b"".join(answer.streaming_content))

    assert answer["Content-Type"] == "text/csv; charset=utf-8; header=present"
    assert answer["Content-Disposition"].startswith('attachment; filename="harbour-lane-yarn-')
    assert list(rose) == list(COLUMNS)
    assert (rose["colour"], rose["dye lot"], rose["given by"]) == (
        "'=Rose", "'+12", "''=HYPERLINK(1)",
    )  # fmt: skip
    assert rose["care"] == ("wash-30-mild bleach-no air-flat")
    assert (rose["fibres"], rose["colour-fast"], rose["grams"]) == (
        "80 % acrylic, 20 % wool", "no", "350",
    )  # fmt: skip
    assert {name: cell for name, cell in navy.items() if cell} == {
        "colour": "Navy", "looks": "#26375c", "grams": "100",
    }  # fmt: skip
    assert not any(cell.startswith(RISKY) for row in (rose, navy) for cell in row.values())
    page = cora.read(path(cast) + "/")
    assert all(name in page for name in COLUMNS)


def test_what_was_taken_makes_the_same_store_elsewhere(
    cast: Cast, shelf: Shelf, cora: Reader
) -> None:
    new_yarn(cast.cora, 350, **KNOWN)
    told, before = taken(cast, cora), facts()
    Yarn.objects.update(circle=cast.stan.memberships.get().circle)

    assert "Read: 2 new, 0 changed." in words(bring(cast, cora, told))
    here = Yarn.objects.filter(circle=cast.circle).order_by("colour", "dye_lot")
    assert list(here.values(*before[0])) == before
    assert [line.way for yarn in here for line in yarn.moves.all()] == ["received", "received"]


def test_to_bring_what_was_taken_changes_nothing(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    new_yarn(cast.cora, 350, **KNOWN)
    shelf.hand_out(cast.vera, 30)
    told, before = taken(cast, cora), everything()

    assert "nothing has changed" in words(bring(cast, cora, told))
    changed = {name for name, table in everything().items() if table != before[name]}
    assert changed == set()


def test_what_is_there_is_counted_again(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    told = "Colour , grams,dye lot\nnavy,80,\nCream,120,7\n"

    text = words(bring(cast, cora, told))
    assert "Read: 1 new, 1 changed." in text
    assert shelf.lines() == [("received", 100, 0), ("counted", -20, 0)]
    assert [move.from_file for move in shelf.yarn.moves.all()] == [True, False]
    assert "20 g less in the store. A file says so. Noted by Cora." in cora.read(
        f"/yarn/{shelf.yarn.pk}/"
    )
    cream = Yarn.objects.get(dye_lot="7")
    assert (cream.colour, cream.grams, cream.value) == ("Cream", 120, "#f4e9cf")
    assert list(audit()) == []
    event = Event.objects.first()
    assert event
    assert (event.verb, event.facts) == ("yarns-imported", {"added": 1, "changed": 1})
    with nothing_changes():
        bring(cast, cora, told)


def test_columns_that_are_left_out_stay_and_empty_cells_do_not(cast: Cast, cora: Reader) -> None:
    yarn = new_yarn(cast.cora, 350, **KNOWN | {"colour": "Rose", "dye_lot": ""})

    bring(cast, cora, "colour,fibres,where\nRose,,The hall\n")
    after = Yarn.objects.get(pk=yarn.pk)
    assert (after.fibres, after.place) == (None, "The hall")
    kept = ("care", "fast", "grams", "value", "given_by", "swatch_grams")
    assert [getattr(after, name) for name in kept] == [getattr(yarn, name) for name in kept]


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("", "The submitted file is empty."),
        ("\n", "The first line names the columns, and one of them must be “colour”."),
        ("name,grams\nNavy,5\n", "one of them must be “colour”."),
        ("colour,weight\nNavy,5\n", "There is no column called “weight”."),
        ("colour,colour\nNavy,Navy\n", "The column “colour” stands there twice."),
        ("colour,grams\n", "There is no yarn in the file."),
        ("colour,grams\nNavy\n", "Line 2 has 1 cells, and there are 2 columns."),
        ('colour,grams\n"Navy,5\n', "is no line of CSV."),
        (b"colour\nRos\xe9\n", "The file is not UTF-8"),
        ("colour,grams\nNavy,5\nnavy,6\n", "Line 3 tells the same yarn as line 2."),
        ("colour,grams\nNavy,\n", "Line 2, grams: This field is required."),
        ("colour,grams\nNavy,5 g\n", "Line 2, grams: Enter a whole number."),
        ("colour,grams\nNavy,-5\n", "Line 2, grams: Ensure this value is greater"),
        ("colour,grams\n,5\n", "Line 2, colour: This field is required."),
        ("colour\nNavy\nSeventh\n", "Line 3, looks: No usual one is called so"),
        ("colour,looks\nNavy,blue\n", "Line 2, looks: Enter a valid value."),
        ("colour,fibres\nNavy,80 % wool\n", "Line 2, fibres: These fibres add up to 80 %"),
        ("colour,care\nNavy,Wash it.\n", "Line 2, care: “Wash it” is no code for care."),
        ("colour,care\nNavy,wash-40 wash-it\n", "Line 2, care: “wash-it” is no code for care."),
        ("colour,care\nNavy,iron-no iron-high\n", "Line 2, care: “iron-high” contradicts"),
        ("colour,care\nNavy,Do not iron. Iron at high heat.\n", "“Iron at high heat” contradicts"),
        ("colour,category\nNavy,DK\n", "Line 2, category: Write a number from 0 to 7."),
        ("colour,colour-fast\nNavy,maybe\n", "Line 2, colour-fast: Write yes, no, or nothing."),
        ("colour,swatch rows\nNavy,60\n", "Line 2, swatch grams: A swatch is told by its"),
        ("colour\n" + "Navy\n" * 501, "The file has more than 500 yarns; part it."),
        ("colour\n" + "N" * 500_000, "That is more than a list of yarns can be."),
        ("colour\n" + "Seventh\n" * 40, "And 10 more."),
    ],
)  # fmt: skip
def test_one_wrong_line_and_nothing_is_taken(
    cast: Cast, shelf: Shelf, cora: Reader, told: str | bytes, said: str
) -> None:
    with nothing_changes():
        answer = bring(cast, cora, told)
    assert answer.status_code == 422
    assert said in words(answer)


@pytest.mark.parametrize(
    "told",
    [
        "wash-30-mild bleach-no air-flat",
        "Bleach-no  AIR-FLAT wash-30-mild",
        # A file that was taken before November 2026.
        "Wash in the machine at 30 °C at most, on a mild cycle. Do not bleach. Dry flat.",
    ],
)
def test_care_is_read_as_codes_and_as_older_files_have_it(
    cast: Cast, cora: Reader, told: str
) -> None:
    bring(cast, cora, f'colour,care,grams\nNavy,"{told}",5\n')
    assert Yarn.objects.get().told_care == KNOWN["care"]


def test_every_sentence_of_older_files_is_still_a_treatment() -> None:
    assert sorted(SENTENCES.values()) == sorted(
        (kind, treatment.name) for kind, treatment in CARE_CODES.values()
    )


def test_right_lines_are_not_taken_beside_wrong_ones(cast: Cast, cora: Reader) -> None:
    bring(cast, cora, "colour,grams\nNavy,50\nCream,much\n")
    assert not Yarn.objects.exists()


def test_a_longer_file_takes_no_more_queries(
    cast: Cast, cora: Reader, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    def bring_quickly(size: int, grams: int) -> None:
        told = "".join(f"Navy,{lot},{grams}\n" for lot in range(size))
        sent = SimpleUploadedFile("y.csv", f"colour,dye lot,grams\n{told}".encode())
        cora.post(path(cast) + "/", {"file": sent})

    for size in (2, 20):
        # session, user, member, savepoint, circle, yarns, yarns held, how many there are, new ones,
        # lines, event, end
        with django_assert_num_queries(12):
            bring_quickly(size, 50)
        with django_assert_num_queries(11):  # changed ones for new ones, not counted
            bring_quickly(size, 60)
        Yarn.objects.update(grams=50)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(st.sampled_from("'=+-@ ＝a\t"), max_size=6))
def test_no_text_is_changed_by_being_made_harmless(text: str) -> None:
    assert fused(defused(text)) == text
    assert not defused(text).startswith(RISKY)


def test_a_line_of_very_many_columns_is_read_at_once() -> None:
    """Each column was once counted for each column: 80,000 took 40 seconds."""
    begun = time.process_time()
    with pytest.raises(UnreadableFile, match="column"):
        list(read_rows(b"colour," * 60_000))
    assert time.process_time() - begun < 3
