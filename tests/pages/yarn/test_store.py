"""The yarn store's pages: what there is, how it is noted, and how it moves."""

import re
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from accounts.models import Circle, Units
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.treatments import Wash
from drives.craft.receivers.rules import Rules
from drives.models import Receiver, Yarn
from drives.models.receiver import stored_rules
from tests.cast import Cast
from tests.desk import new_drive
from tests.pages.conftest import Reader
from tests.store import Shelf, new_yarn

ROSE = {
    "colour": "Dusty rose",
    "value": "#808080",
    "dye_lot": " A  12 ",
    "grams": "250",
    "category": "4",
    "fibres": "80% acrylic, 20% merino",
    "metres_per_100_grams": "200",
    "wash": "MACHINE_40",
    "fast": "yes",
    "swatch_stitches": "30",
    "swatch_rows": "60",
    "swatch_grams": "12.5",
    "given_by": "The choir",
    "agreed": "on",
    "place": "Cora’s cupboard",
}


@pytest.fixture
def shelf(cast: Cast) -> Shelf:
    """70 g of navy, 30 g of it with Vera."""
    shelf = Shelf(new_yarn(cast.cora), cast.cora)
    shelf.hand_out(cast.vera, 30)
    return shelf


def store(cast: Cast) -> str:
    return f"/circles/{cast.circle.pk}/yarn/"


def page(shelf: Shelf, what: str = "") -> str:
    return f"/yarn/{shelf.yarn.pk}/{what}"


def test_an_empty_store_says_what_to_do_first(cast: Cast, cora: Reader, vera: Reader) -> None:
    assert "Note the first yarn" in cora.read(store(cast))
    text = vera.read(store(cast))
    assert "bring it to a coordinator with its band" in text
    assert "Note the first yarn" not in text
    assert "Yarn" in vera.read(f"/circles/{cast.circle.pk}/")


def test_a_yarn_is_noted_as_its_band_tells_it(cast: Cast, cora: Reader) -> None:
    text = cora.press(store(cast) + "new/", ROSE)

    assert "Dusty rose dye lot A 12 In the store 250 g In members’ hands nothing" in text
    assert "Fibres 80 % acrylic, 20 % wool Category 4 medium, 200 metres in 100 g" in text
    assert "Colour-fast Tried: its dye stays in" in text
    assert "Care Wash in the machine at 40 °C at most. Swatch 30 stitches × 60 rows weigh" in text
    assert "Given by The choir" in text
    yarn = Yarn.objects.get()
    assert (yarn.colour, yarn.dye_lot, yarn.value) == ("Dusty rose", "A 12", "#cf6f83")
    assert yarn.told_fibres == {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}
    assert yarn.told_care.wash is Wash.MACHINE_40


def test_what_the_band_does_not_tell_stays_unknown(cast: Cast, cora: Reader) -> None:
    text = cora.press(store(cast) + "new/", {"colour": "Navy", "grams": "50"})

    assert "Navy dye lot not known" in text
    assert "Fibres fibres not known Category not known Colour-fast Never tried" in text


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({"colour": ""}, "Colour: This field is required."),
        ({"colour": "Seventh"}, "How it looks: No usual one is called so"),
        ({"value": "red"}, "How it looks: Enter a valid value."),
        ({"fibres": "80 % acrylic"}, "Fibres: These fibres add up to 80 %, not to 100 %"),
        ({"fibres": "100 % moon"}, "Fibres: “moon” is not one of the fibres"),
        ({"swatch_grams": ""}, "A swatch is told by its stitches, its rows and its weight"),
        ({"agreed": ""}, "They agreed: Without their consent, leave the name out."),
        ({"grams": "200000"}, "How much, in grams: That can hardly be"),
        ({"grams": "-1"}, "How much, in grams: Ensure this value is greater"),
    ],
)
def test_what_cannot_be_is_told_with_its_field(
    cast: Cast, cora: Reader, told: dict[str, str], said: str
) -> None:
    answer = cora.post(store(cast) + "new/", ROSE | told)

    assert answer.status_code == 422
    assert said in re.sub(r"<[^>]+>", "", answer.content.decode())
    assert not Yarn.objects.exists()


def test_dye_lots_of_one_colour_are_told_apart(cast: Cast, shelf: Shelf, vera: Reader) -> None:
    assert "several dye lots" not in vera.read(store(cast))
    assert "other dye lots" not in vera.read(page(shelf))
    new_yarn(cast.cora, dye_lot="4711")

    text = vera.read(store(cast))
    warning = "There are several dye lots of Navy. They may differ by daylight: keep to one of them"
    assert warning in text
    assert text.index("Navy dye lot not known") < text.index("Navy dye lot 4711")
    assert "There are other dye lots of Navy: 4711." in vera.read(page(shelf))


def test_members_see_the_store_and_what_they_have_themselves(
    cast: Cast, shelf: Shelf, cora: Reader, vera: Reader
) -> None:
    shelf.hand_out(cast.paul, 20)

    assert "50 g 50 g with you: 30 g" in vera.read(store(cast))
    text = vera.read(page(shelf))
    assert "In the store 50 g In members’ hands 50 g; with you: 30 g" in text
    assert "30 g handed out to Vera" in text
    assert "Paul" not in text
    assert "Who has some Paul: 20 g Vera: 30 g" in cora.read(page(shelf))


def test_every_movement_has_its_form(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    def move(way: str, amount: str, member: object = None) -> str:
        told = {"amount": amount} if member is None else {"amount": amount, "member": member}
        return cora.press(page(shelf, f"{way}/"), told)

    assert "Noted: 50 g came in." in move("receive", "50")
    assert "Noted: 20 g handed out to Paul." in move("hand-out", "20", cast.paul.pk)
    assert "Noted: 5 g brought back by Vera." in move("take-back", "5", cast.vera.pk)
    assert "Noted: 10 g knitted up by Vera." in move("knit-up", "10", cast.vera.pk)
    assert "Noted: 15 g knitted up, straight from the store." in move("knit-up", "15", "store")
    assert "Noted: counted again: 2 g less in the store." in move("count", "88", "store")
    assert "Noted: counted again: 1 g more with Vera." in move("count", "16", cast.vera.pk)
    assert "Noted: the books said so already." in move("count", "88", "store")
    assert (shelf.stored, shelf.hands()) == (88, {"Vera": 16, "Paul": 20})


def test_too_much_is_refused_beside_the_form(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    told = {"amount": "71", "member": cast.paul.pk}
    answer = cora.post(page(shelf, "hand-out/"), told)

    assert answer.status_code == 409
    text = answer.content.decode()
    # Above all, and in the form.
    assert text.count("There are 70 g of “Navy” in the store, so 71 g cannot leave it.") == 2
    assert re.findall(r'<details id="([\w-]+)" open>', text) == ["hand-out"]


def test_a_button_pressed_twice_moves_the_yarn_once(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    text = cora.get(page(shelf)).content.decode()
    (seen,) = set(re.findall(r'name="seen" value="(\d+)"', text))
    told = {"amount": "20", "member": cast.paul.pk, "seen": seen}

    for _press in range(2):
        assert "Noted: 20 g handed out to Paul." in cora.press(page(shelf, "hand-out/"), told)
    assert shelf.hands() == {"Vera": 30, "Paul": 20}


def test_members_note_themselves_what_they_have_knitted_up(
    cast: Cast, shelf: Shelf, vera: Reader
) -> None:
    assert "What is left goes back to a coordinator" in vera.read(page(shelf))
    # Whatever a member sends, it is about what they have.
    told = {"amount": "30", "member": cast.paul.pk}
    text = vera.press(page(shelf, "knit-up/"), told)

    assert "Noted: 30 g knitted up by Vera." in text
    assert "What you have of it" not in text  # nothing any more


def test_changes_begin_from_what_is_known(cast: Cast, cora: Reader) -> None:
    cora.press(store(cast) + "new/", ROSE)
    yarn = Yarn.objects.get()
    before = Yarn.objects.values().get()
    form = cora.get(f"/yarn/{yarn.pk}/change/").context["form"]

    text = cora.press(f"/yarn/{yarn.pk}/change/", sent_by(form))
    assert "The changes are kept." in text
    assert Yarn.objects.values().get() == before
    cora.press(f"/yarn/{yarn.pk}/change/", sent_by(form) | {"fast": "no", "given_by": ""})
    yarn.refresh_from_db()
    assert (yarn.fast, yarn.given_by) == (False, "")


def test_weights_and_lengths_are_told_in_the_circles_units(cast: Cast, cora: Reader) -> None:
    Circle.objects.update(units=Units.INCH)
    told = ROSE | {"grams": "8.8", "metres_per_100_grams": "219", "swatch_grams": "0.437"}
    text = cora.press(store(cast) + "new/", told)

    assert "In the store 8.78 oz" in text  # 249 g
    assert "219 yards in 100 g" in text
    yarn, before = Yarn.objects.get(), Yarn.objects.values().get()
    assert (yarn.grams, yarn.metres_per_100_grams, str(yarn.swatch_grams)) == (249, 200, "12.4")
    form = cora.get(f"/yarn/{yarn.pk}/change/").context["form"]
    cora.press(f"/yarn/{yarn.pk}/change/", sent_by(form))
    assert Yarn.objects.values().get() == before
    shelf = Shelf(yarn, cast.cora)
    cora.press(page(shelf, "knit-up/"), {"amount": "8.78", "member": "store"})
    assert shelf.stored == 0


def test_a_receiver_who_would_refuse_it_is_named_where_it_is_handed_out(
    cast: Cast, cora: Reader
) -> None:
    drive = new_drive(cast.olga, name="For the ward")
    rules = stored_rules(Rules(refused=frozenset({Fibre.WOOL})))
    Receiver.objects.update_or_create(drive=drive, defaults={"told": rules})
    yarn = new_yarn(cast.cora, fibres={Fibre.WOOL: 100})

    said = "“Navy” has 100 % wool; the receiver refuses it."
    assert f"For the ward: {said}" in cora.read(f"/yarn/{yarn.pk}/")
    assert f"Not for For the ward: {said}" in cora.read(store(cast))


def test_a_long_ledger_shows_its_newest_lines_first(cast: Cast, shelf: Shelf, cora: Reader) -> None:
    for grams in range(1, 35):
        shelf.receive(grams)
    text = cora.read(page(shelf))
    assert "34 g came in" in text
    assert "100 g came in" not in text
    assert "100 g came in" in cora.read(page(shelf), {"all": "yes"})


def test_more_yarn_and_more_hands_take_no_more_queries(
    cast: Cast,
    shelf: Shelf,
    cora: Reader,
    vera: Reader,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for size in range(2):
        with django_assert_num_queries(6):  # session, user, member, yarns, reservations, drives
            cora.read(store(cast))
        # session, user, yarn, member, yarn with hands, holdings, members, newest, drives,
        # reservations, other lots, lines
        with django_assert_num_queries(12):
            cora.read(page(shelf))
        with django_assert_num_queries(11):
            vera.read(page(shelf))
        new_yarn(cast.cora, dye_lot=f"{size}")
        shelf.hand_out(cast.paul, 5)
        shelf.knit_up(cast.paul, 1)


def sent_by(form: Any) -> dict[str, Any]:
    """What a browser sends of a form that nobody has touched."""
    fields = {field.name: field.value() for field in form}
    return {name: value for name, value in fields.items() if value not in (None, False)}
