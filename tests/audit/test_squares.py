"""Squares and layouts broken by SQL, with the database's rules asleep: the audit names each."""

import pytest

from tests.broken import lines, member, piece_of, run, set_square, sqlite_only
from tests.desk import Desk

pytestmark = sqlite_only


def test_the_audit_of_a_sound_blanket_is_silent(desk: Desk) -> None:
    assert lines() == []


SQUARES: list[tuple[str, str, list[str]]] = [
    ("C2", "unmet = 2", ["C2: unmet is 2, but it waits for 1."]),
    (
        "C2",
        "state = 'taken'",
        [
            "C2: breaks the rule nothing_begun_stands_on_unfinished.",
            "C2: it is taken, but stands on unfinished B2.",
            "C2: it is taken, but there is no open claim.",
            "C2: it is taken, but open by the log.",
        ],
    ),
    (
        "B2",
        "state = 'open'",
        [
            "B2: it is open, but there is an open claim.",
            "B2: it is open, but taken by the log.",
        ],
    ),
    (
        "B2",
        f"state = 'finished', finished_at = '2026-11-02', knitter_id = {member('Vera')}",
        [
            "B2: it is finished, but there is an open claim.",
            "B2: no claim ended with Vera finishing it.",
            "B2: it is finished, but taken by the log.",
            "C2: unmet is 1, but it waits for 0.",
            "B3: unmet is 1, but it waits for 0.",
            "B1, B2, C1: one fabric, but 2 pieces.",
            "B2: finished, but in no piece.",
        ],
    ),
    (
        "C1",
        "state = 'open', finished_at = NULL, knitter_id = NULL, piece_id = NULL",
        [
            "C1: it is open, but finished by the log.",
            "C2: unmet is 1, but it waits for 2.",
        ],
    ),
    (
        "A3",
        "finished_at = '2026-11-02'",
        ["A3: breaks the rule finished_has_a_date_and_a_knitter."],
    ),
    ("C1", "knitter_id = NULL", ["C1: breaks the rule finished_has_a_date_and_a_knitter."]),
    ("C1", f"knitter_id = {member('Vera')}", ["C1: no claim ended with Vera finishing it."]),
    (
        "C1",
        f"knitter_id = {member('Stan')}",
        [
            "C1: “knitter” names somebody of another circle.",
            "C1: no claim ended with Stan finishing it.",
        ],
    ),
    (
        "C1",
        "piece_id = NULL",
        ["B1, C1: one fabric, but 2 pieces.", "C1: finished, but in no piece."],
    ),
    (
        "A2",
        f"piece_id = {piece_of('B1')}",
        ["A1, A2: one fabric, but 2 pieces.", ": piece B1 is 2 fabrics."],
    ),
    ("A3", f"piece_id = {piece_of('A1')}", ["A3: it is not finished, but belongs to a piece."]),
    ("C3", '"column" = 9', ["I3: there is no room for this square in the layout."]),
    (
        "C3",
        "size = 11",
        [
            "C3: breaks the rule square_within_limits.",
            ": its layout is no layout. The square at C3 must be from 1 to 10 units wide.",
        ],
    ),
    (
        "A3",
        "state = 'lost'",
        [
            "A3: breaks the rule square_state_known.",
            "A3: it is lost, but open by the log.",
        ],
    ),
]


@pytest.mark.parametrize(("square", "changes", "said"), SQUARES)
def test_squares(desk: Desk, square: str, changes: str, said: list[str]) -> None:
    set_square(square, changes)
    assert lines() == [_of_the_blanket(line) for line in said]


def _of_the_blanket(line: str) -> str:
    return f"blanket{line}" if line.startswith(":") else f"blanket, {line}"


def test_squares_that_lie_under_a_large_one(desk: Desk) -> None:
    run('DELETE FROM drives_square WHERE "column" = 3 AND "row" = 3')
    set_square("B2", "size = 2")
    assert lines() == [
        "blanket, B3: there is no room for this square in the layout.",
        "blanket, C2: there is no room for this square in the layout.",
    ]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ('seams = \'[["A1", "Z9"]]\'', "The seam between A1 and Z9 lies outside the blanket."),
        ('seams = \'[["A1", "?"]]\'', "It cannot be read: “?” is not the name of a place"),
        ("seams = '[7]'", "It cannot be read: cannot unpack"),
        ("columns = 151", "The grid is larger than the largest."),
    ],
)
def test_layouts(desk: Desk, changes: str, said: str) -> None:
    run(f"UPDATE drives_blanket SET {changes}")
    assert lines()[-1].startswith(f"blanket: its layout is no layout. {said}")
