"""How grams move between the store and hands, and what is refused."""

import pytest
from django.db import IntegrityError, transaction

from accounts.actions import remove_member
from accounts.models import Circle, Units
from drives.audit import audit
from drives.models import Holding, Move, Yarn
from tests.cast import Cast
from tests.desk import NOW, nothing_changes, refused, twice
from tests.store import Shelf, events, new_yarn

SWATCH = {"swatch_stitches": 30, "swatch_rows": 60}


@pytest.fixture
def shelf(cast: Cast) -> Shelf:
    """100 g of navy."""
    return Shelf(new_yarn(cast.cora), cast.cora)


def test_every_way_of_moving_is_a_line_and_an_event(shelf: Shelf, cast: Cast) -> None:
    shelf.receive(50, note="from the church fair")
    shelf.hand_out(cast.vera, 80)
    shelf.take_back(cast.vera, 10)
    shelf.knit_up(cast.vera, 30)
    shelf.knit_up(None, 5)
    shelf.count(None, 70)
    shelf.count(cast.vera, 42)

    assert (shelf.stored, shelf.hands()) == (70, {"Vera": 42})
    assert shelf.lines() == [
        ("received", 100, 0),
        ("received", 50, 0),
        ("handed-out", -80, 80),
        ("returned", 10, -10),
        ("knitted", 0, -30),
        ("knitted", -5, 0),
        ("counted", -5, 0),
        ("counted", 0, 2),
    ]
    assert [(verb, facts["grams"], facts.get("member")) for verb, facts in events(shelf.yarn)] == [
        ("yarn-added", 100, None),
        ("yarn-received", 50, None),
        ("yarn-handed-out", 80, cast.vera.pk),
        ("yarn-returned", 10, cast.vera.pk),
        ("yarn-knitted", 30, cast.vera.pk),
        ("yarn-knitted", 5, None),
        ("yarn-counted", 5, None),
        ("yarn-counted", 2, cast.vera.pk),
    ]
    assert shelf.yarn.moves.order_by("pk")[1].note == "from the church fair"
    assert list(audit()) == []


def test_no_more_leaves_the_store_than_there_is(shelf: Shelf, cast: Cast) -> None:
    sentence = "There are 100 g of “Navy” in the store, so 101 g cannot leave it."
    with refused("not-so-much-yarn", sentence, grams=100):
        shelf.hand_out(cast.vera, 101)
    with refused("not-so-much-yarn", sentence, grams=100):
        shelf.knit_up(None, 101)
    shelf.hand_out(cast.vera, 100)
    assert (shelf.stored, shelf.hands()) == (0, {"Vera": 100})


def test_no_more_leaves_hands_than_they_have(shelf: Shelf, cast: Cast) -> None:
    shelf.hand_out(cast.vera, 40)

    sentence = "Vera has 40 g of “Navy”, so 41 g cannot leave their hands."
    with refused("not-so-much-yarn", sentence, grams=40):
        shelf.take_back(cast.vera, 41)
    with refused("not-so-much-yarn", sentence, grams=40):
        shelf.knit_up(cast.vera, 41)
    sentence = "Paul has 0 g of “Navy”, so 1 g cannot leave their hands."
    with refused("not-so-much-yarn", sentence, grams=0):
        shelf.take_back(cast.paul, 1)


def test_what_there_is_is_told_in_the_circles_units(cast: Cast) -> None:
    Circle.objects.update(units=Units.INCH)
    cast.cora.refresh_from_db()
    shelf = Shelf(new_yarn(cast.cora), cast.cora)

    sentence = "There are 3.53 oz of “Navy” in the store, so 7.05 oz cannot leave it."
    with refused("not-so-much-yarn", sentence, grams=100):
        shelf.hand_out(cast.vera, 200)


def test_members_take_off_the_books_what_they_have_themselves(shelf: Shelf, cast: Cast) -> None:
    shelf.hand_out(cast.vera, 40)
    shelf.hand_out(cast.paul, 40)
    shelf.knit_up(cast.vera, 15, by=cast.vera)

    assert shelf.hands() == {"Paul": 40, "Vera": 25}
    sentence = "Only the person who has “Navy”, or a coordinator, can do this."
    for somebody in (cast.paul, None):
        with refused("not-yours", sentence):
            shelf.knit_up(somebody, 5, by=cast.vera)


def test_who_has_left_gets_nothing_more_and_can_bring_it_back(shelf: Shelf, cast: Cast) -> None:
    shelf.hand_out(cast.vera, 40)
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    cast.vera.refresh_from_db()

    with refused("member-has-left", "Vera is no longer in the circle."):
        shelf.hand_out(cast.vera, 1)
    shelf.take_back(cast.vera, 40)
    assert shelf.stored == 100


def test_counting_what_is_there_changes_nothing(shelf: Shelf, cast: Cast) -> None:
    assert twice(lambda: shelf.count(None, 90)) is None
    assert twice(lambda: shelf.count(cast.vera, 7)) is None
    with nothing_changes():
        assert shelf.count(cast.paul, 0) is None


def test_the_second_press_of_a_button_changes_nothing(shelf: Shelf, cast: Cast) -> None:
    seen = shelf.receive(50).pk
    first = shelf.hand_out(cast.vera, 50, seen=seen)

    with nothing_changes():
        assert shelf.hand_out(cast.vera, 50, seen=seen) == first
    shelf.hand_out(cast.vera, 50, seen=first.pk)  # from the page that shows the first
    shelf.hand_out(cast.vera, 40, seen=seen)  # another amount is no second press
    assert shelf.hands() == {"Vera": 140}
    shelf.take_back(cast.vera, 50, seen=seen)
    shelf.take_back(cast.vera, 50, seen=seen, by=cast.olga)  # and nobody presses for another
    assert shelf.hands() == {"Vera": 40}


@pytest.mark.parametrize(
    ("rule", "table", "changes"),
    [
        ("grams|store_never_below_nothing", Yarn, {"grams": -1}),
        ("grams|holding_never_below_nothing", Holding, {"grams": -1}),
        ("yarn_has_a_colour", Yarn, {"colour": ""}),
        ("yarn_category_known", Yarn, {"category": 8}),
        ("swatch_has_stitches_rows_and_grams", Yarn, {"swatch_rows": 60}),
        ("swatch_has_stitches_rows_and_grams", Yarn, {**SWATCH, "swatch_grams": 0}),
        ("move_way_known", Move, {"way": "lost"}),
        ("held_yarn_has_a_holder", Move, {"held": 5, "member": None}),
        ("move_moves_something", Move, {"grams": 0, "held": 0}),
    ],
)
def test_rules_of_the_database(
    shelf: Shelf, cast: Cast, rule: str, table: type[Yarn | Holding | Move], changes: dict[str, int]
) -> None:
    shelf.hand_out(cast.vera, 10)
    with pytest.raises(IntegrityError, match=rule), transaction.atomic():
        table._base_manager.update(**changes)


def test_a_yarn_and_a_holding_are_there_once(shelf: Shelf, cast: Cast) -> None:
    shelf.hand_out(cast.vera, 10)
    for row in (*Yarn.objects.all(), *Holding.objects.all()):
        row.pk = None
        with pytest.raises(IntegrityError), transaction.atomic():
            row.save(force_insert=True)
