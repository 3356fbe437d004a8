"""The log of a blanket."""

import pytest

from accounts.models import Event
from drives.actions.squares import claims
from drives.pages.common.log.line import event_line
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW
from tests.pages.conftest import Reader


def test_what_happened_is_told_in_sentences(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    desk.extend("A1", by=cast.cora, days=3)
    desk.give_back("A1", by=cast.vera)
    desk.claim("A1", cast.paul, by=cast.cora)
    desk.release("A1", by=cast.cora)
    desk.claim("A1", cast.paul, by=cast.cora)
    desk.finish("A1", by=cast.cora)
    desk.rip_back("A1", by=cast.olga)
    text = vera.read(f"/blankets/{desk.blanket.pk}/log/")
    sentences = (
        "Olga ripped A1 back.",
        "Paul finished A1; Cora noted it. Ready now: A2 and B1.",
        "Cora gave A1 to Paul, until 16 November.",
        "Cora took A1 out of Paul’s hands.",
        "Vera gave A1 back.",
        "Cora gave Vera until 19 November for A1.",
        "Vera took A1, until 16 November.",
        "Olga planned the blanket: 4 squares.",
    )
    at = [text.index(sentence) for sentence in sentences]
    assert at == sorted(at)


def test_the_clock_s_own_doings_are_told(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    assert claims.remind_knitter(claim=claim, now=NOW + 15 * DAY)
    assert claims.lapse_claim(claim=claim, now=NOW + 22 * DAY)
    text = vera.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "A1 lapsed: Vera’s days of grace were over." in text
    assert "The site reminded Vera of A1." in text


def test_a_long_log_comes_in_pages(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan()
    for _turn in range(30):
        desk.claim("A1", cast.vera)
        desk.give_back("A1", by=cast.vera)
    address = f"/blankets/{desk.blanket.pk}/log/"
    assert vera.read(address).endswith("Older Page 1 of 2")
    assert vera.read(address, {"page": 2}).endswith("4 squares. Newer Page 2 of 2")
    assert vera.read(address, {"page": 99}).endswith("Page 2 of 2")


@pytest.mark.parametrize(
    ("verb", "facts", "line"),
    [
        ("planned", {"squares": 1}, "Olga planned the blanket: 1 square."),
        ("coloured", {"squares": 1}, "Olga chose the yarn for 1 square."),
        (
            "colours-planned",
            {"squares": 1},
            "Olga made a plan for the yarns: 1 square changed.",
        ),
        (
            "colour-chosen",
            {"place": "A1", "colour": "rust", "member": "Olga", "changed": 1},
            "Olga chose rust for A1; 1 other square changed.",
        ),
        (
            "colour-chosen",
            {"place": "A1", "colour": "rust", "member": "Vera", "changed": 1},
            "Olga chose rust for Vera’s A1; 1 other square changed.",
        ),
        (
            "codes-renewed",
            {"codes": 1},
            "Olga renewed a code on paper: what was printed before leads nowhere now.",
        ),
    ],
)
def test_one_is_told_as_one(cast: Cast, verb: str, facts: dict[str, object], line: str) -> None:
    event = Event(by=cast.olga, circle=cast.circle, verb=verb, facts=facts)
    assert event_line(event, {}) == line
