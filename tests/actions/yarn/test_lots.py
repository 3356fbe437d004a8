"""Choosing which dye lots of a colour count together."""

from typing import Any

import pytest

from accounts.models import Event
from drives.actions.yarn.lots import choose_lots, keep_to_one_lot
from drives.audit import audit
from drives.craft.fibre.fibres import Fibre
from drives.craft.yarn.lots import LotWay
from drives.models import LotChoice, Yarn
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, refused
from tests.store import new_yarn

WOOL, ACRYLIC = {Fibre.WOOL: 100}, {Fibre.ACRYLIC: 100}


@pytest.fixture
def desk(plan: Plan) -> Desk:
    return plan()


@pytest.fixture
def lots(cast: Cast) -> list[Yarn]:
    """A and B are alike, C is thicker, D of other fibres, and of E nobody knows."""
    told: list[dict[str, Any]] = [
        {"dye_lot": "A", "category": 4, "fibres": WOOL},
        {"dye_lot": "B", "category": 4, "fibres": WOOL},
        {"dye_lot": "C", "category": 5, "fibres": WOOL},
        {"dye_lot": "D", "category": 4, "fibres": ACRYLIC},
        {"dye_lot": "E"},
    ]
    return [new_yarn(cast.cora, **facts) for facts in told]


def choose(desk: Desk, by: Any, yarns: list[Yarn], **more: Any) -> bool:
    facts: dict[str, Any] = {
        "colour": "Navy",
        "yarns": [yarn.pk for yarn in yarns],
        "way": LotWay.NEVER_SIDE_BY_SIDE,
    }
    return choose_lots(blanket=desk.blanket, by=by, now=NOW, **facts | more)


def test_a_choice_is_noted_once(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    assert choose(desk, cast.cora, lots[:2])
    assert not choose(desk, cast.cora, lots[1::-1])
    assert choose(desk, cast.cora, lots[:2], way=LotWay.AT_A_SEAM)
    choice = LotChoice.objects.get()
    assert (choice.way, list(choice.yarns.all())) == (LotWay.AT_A_SEAM, lots[:2])
    assert keep_to_one_lot(blanket=desk.blanket, colour="Navy", by=cast.cora, now=NOW)
    assert not keep_to_one_lot(blanket=desk.blanket, colour="Navy", by=cast.cora, now=NOW)
    noted = Event.objects.filter(verb__contains="lot").order_by("pk")
    assert [event.verb for event in noted] == ["lots-chosen", "lots-chosen", "one-lot-chosen"]
    assert noted[0].facts["lots"] == ["A", "B"]
    assert list(audit()) == []


def test_unlike_yarns_are_refused(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    one, _same, thick, other, unknown = lots
    for yarn, why, sentence in (
        (thick, "thickness", "“Navy (A)” and “Navy (C)” are not equally thick: never mix them."),
        (other, "fibres", "“Navy (A)” and “Navy (D)” are not of the same fibres: never mix them."),
        (
            unknown,
            "not-known",
            "Note the weight category and the fibres of both “Navy (A)” and “Navy (E)” first: "
            "thickness and fibres are never mixed.",
        ),
    ):
        with refused("lots-unlike", sentence, why=why):
            choose(desk, cast.cora, [one, yarn])
    sentence = "“Navy (A)” and “Navy (D)” are not of the same fibres: never mix them."
    with refused("lots-unlike", sentence, why="fibres"):
        choose(desk, cast.cora, [*lots[:2], other])
    assert not LotChoice.objects.exists()


def test_one_lot_is_no_choice(cast: Cast, desk: Desk, lots: list[Yarn]) -> None:
    sentence = "Choose two dye lots of Navy or more; one alone needs no choice."
    with refused("one-lot-alone", sentence):
        choose(desk, cast.cora, lots[:1])
    sentence = "The store has no such dye lot of Rose any more; look at the store again."
    with refused("no-such-lot", sentence):
        choose(desk, cast.cora, lots[:2], colour="Rose")
