"""The audit on PostgreSQL: a rule that was dropped, and what got in without it."""

import pytest

from tests.broken import lines, run, set_square
from tests.cast import Cast
from tests.conftest import Plan

pytestmark = [pytest.mark.postgres, pytest.mark.django_db]


def test_rules_and_rows_are_named(cast: Cast, plan: Plan) -> None:
    plan()
    run("SET CONSTRAINTS ALL IMMEDIATE")
    run("ALTER TABLE drives_square DROP CONSTRAINT nothing_begun_stands_on_unfinished")
    run("DROP INDEX one_open_claim_per_square")
    set_square("B1", "state = 'taken'")
    assert lines() == [
        "table drives_square: the rule nothing_begun_stands_on_unfinished is missing.",
        "table drives_claim: the rule one_open_claim_per_square is missing.",
        "blanket, B1: breaks the rule nothing_begun_stands_on_unfinished.",
        "blanket, B1: it is taken, but stands on unfinished A1.",
        "blanket, B1: it is taken, but there is no open claim.",
        "blanket, B1: it is taken, but open by the log.",
    ]
