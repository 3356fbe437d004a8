"""The store and hands broken by SQL: the audit counts the ledger again."""

import re

import pytest

from tests.broken import lines, member, run, sqlite_only
from tests.cast import Cast
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
