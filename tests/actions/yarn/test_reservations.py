"""Yarn that is kept for a blanket: never more than there is, and used up as it is knitted."""

from datetime import date

import pytest

from accounts.models import Event
from drives.actions.drives.gifts import GiftDescription, describe_gift
from drives.actions.yarn.import_file import YarnRow, import_yarns
from drives.actions.yarn.ledger import knit_up_yarn
from drives.actions.yarn.reservations import reserve_yarn
from drives.audit import audit
from drives.models import Blanket, Reservation
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, refused
from tests.store import FACTS, Shelf, new_yarn


@pytest.fixture
def shelf(cast: Cast) -> Shelf:
    """100 g of navy, 40 g of it with Vera."""
    shelf = Shelf(new_yarn(cast.cora), cast.cora)
    shelf.hand_out(cast.vera, 40)
    return shelf


def reserve(shelf: Shelf, blanket: Blanket, grams: int) -> Reservation | None:
    return reserve_yarn(blanket=blanket, yarn=shelf.yarn, grams=grams, by=shelf.by, now=NOW)


def kept() -> list[int]:
    return list(Reservation.objects.order_by("pk").values_list("grams", flat=True))


def verbs() -> list[str]:
    noted = Event.objects.filter(verb__contains="reserv") | Event.objects.filter(verb="yarn-freed")
    return list(noted.order_by("pk").values_list("verb", flat=True))


def test_no_more_is_reserved_than_there_is(cast: Cast, plan: Plan, shelf: Shelf) -> None:
    one, other = plan().blanket, plan().blanket
    reserve(shelf, one, 70)
    sentence = "Of “Navy” 30 g can be reserved: the rest is kept for other blankets."
    with refused("not-so-much-free", sentence, grams=30):
        reserve(shelf, other, 31)
    reserve(shelf, other, 30)
    reserve(shelf, one, 70)
    reserve(shelf, one, 60)
    assert kept() == [60, 30]
    reserve(shelf, one, 0)
    reserve(shelf, one, 0)
    assert kept() == [30]
    assert verbs() == ["yarn-reserved", "yarn-reserved", "yarn-reserved", "yarn-freed"]
    assert list(audit()) == []


def test_all_of_it_may_be_kept(plan: Plan, shelf: Shelf) -> None:
    other = plan().blanket
    reserve(shelf, plan().blanket, 100)
    sentence = "Of “Navy” nothing can be reserved: it is used up, or kept for others."
    with refused("not-so-much-free", sentence, grams=0):
        reserve(shelf, other, 1)


def test_what_is_knitted_up_uses_it_up(cast: Cast, plan: Plan, shelf: Shelf) -> None:
    one, other = plan().blanket, plan().blanket
    reserve(shelf, one, 50)
    shelf.knit_up(cast.vera, 30)
    assert kept() == [20]
    reserve(shelf, other, 40)
    shelf.knit_up(None, 10)  # nobody says for which of the two, and 10 g are free
    assert kept() == [20, 40]
    knit_up_yarn(yarn=shelf.yarn, member=None, grams=15, blanket=one, by=cast.cora, now=NOW)
    assert kept() == [5, 40]
    knit_up_yarn(yarn=shelf.yarn, member=None, grams=5, blanket=one, by=cast.cora, now=NOW)
    assert kept() == [40]
    assert "reservation-cut" not in verbs()
    assert list(audit()) == []


def test_what_is_not_there_any_more_is_not_kept(cast: Cast, plan: Plan, shelf: Shelf) -> None:
    reserve(shelf, plan().blanket, 50)
    reserve(shelf, plan().blanket, 50)
    shelf.hand_out(cast.vera, 20)
    shelf.take_back(cast.vera, 10)
    assert kept() == [50, 50]
    shelf.count(cast.vera, 30)
    assert kept() == [50, 30]
    shelf.count(None, 5)
    assert kept() == [35]
    row = YarnRow(FACTS, frozenset(), 1)
    import_yarns(circle=cast.circle, rows=[row], by=cast.cora, now=NOW)
    assert kept() == [31]
    assert verbs().count("reservation-cut") == 4
    assert list(audit()) == []


def test_a_blanket_that_is_given_keeps_none(cast: Cast, plan: Plan, shelf: Shelf) -> None:
    blanket, other = plan().blanket, plan().blanket
    reserve(shelf, blanket, 50)
    reserve(shelf, other, 20)
    describe_gift(blanket=blanket, by=cast.cora, description=GiftDescription(), now=NOW)
    assert kept() == [50, 20]
    given = GiftDescription(given_on=date(2026, 11, 20))
    describe_gift(blanket=blanket, by=cast.cora, description=given, now=NOW)
    assert kept() == [20]
    sentence = f"“{blanket}” is handed over: it needs no more yarn."
    with refused("blanket-is-given", sentence):
        reserve(shelf, blanket, 10)
    assert list(audit()) == []
