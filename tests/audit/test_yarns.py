"""The store and hands broken by SQL: the audit counts the ledger again."""

import re
from datetime import date

import pytest

from drives.models import Gift, Reservation
from tests.broken import lines, member, run, sqlite_only
from tests.cast import Cast
from tests.conftest import Plan
from tests.store import Shelf, new_yarn

pytestmark = sqlite_only


@pytest.fixture
def shelf(asleep: None, cast: Cast) -> Shelf:
    """70 g in the store, 30 g with Vera."""
    shelf = Shelf(new_yarn(cast.cora), cast.cora)
    shelf.hand_out(cast.vera, 30)
    return shelf


def test_all_is_well(shelf: Shelf) -> None:
    assert lines() == []


def test_reservations_are_added_up(shelf: Shelf, plan: Plan) -> None:
    blankets = [plan().blanket, plan().blanket]
    for blanket, grams in zip(blankets, (60, 40), strict=True):
        Reservation.objects.create(blanket=blanket, yarn=shelf.yarn, grams=grams)
    assert lines() == []
    Gift.objects.create(blanket=blankets[0], given_on=date(2026, 11, 20))
    Reservation.objects.filter(blanket=blankets[1]).update(grams=41)
    said = ["101 g are reserved, but there are 100 g.", "is handed over, but 60 g are kept."]
    assert [said[at] in line for at, line in enumerate(lines())] == [True, True]


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "UPDATE drives_yarn SET grams = 71",
            ["yarn: 71 g are in the store, but 70 g by the ledger."],
        ),
        (
            "UPDATE drives_holding SET grams = 29",
            ["yarn, holding: Vera has 29 g, but 30 g by the ledger."],
        ),
        (
            "DELETE FROM drives_holding",
            ["yarn: member it has 30 g by the ledger, but nothing is noted."],
        ),
        (
            "DELETE FROM drives_move WHERE way = 'handed-out'",
            [
                "yarn: 70 g are in the store, but 100 g by the ledger.",
                "yarn, holding: Vera has 30 g, but 0 g by the ledger.",
            ],
        ),
        (
            f"UPDATE drives_move SET by_id = {member('Stan')} WHERE way = 'received'",
            ["yarn, line: “by” names somebody of another circle."],
        ),
    ],
)
def test_the_ledger_is_counted_again(shelf: Shelf, statement: str, said: list[str]) -> None:
    run(statement)
    assert [re.sub(r"(?<=member )\d+", "it", line) for line in lines()] == said
