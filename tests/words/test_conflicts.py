"""What goes against the receiver's rules, in words."""

from itertools import product
from typing import Any

import pytest

from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.treatments import Tumble, Wash
from drives.craft.places import Place
from drives.craft.receivers.blanket_rules import (
    FinishedFacts,
    PlanFacts,
    finished_conflicts,
    plan_conflicts,
)
from drives.craft.receivers.conflicts import Conflict, ConflictCode
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.yarn_rules import YarnFacts, yarn_conflicts
from drives.words.conflicts import detail, mend

WOOLLY = YarnFacts("Moss", {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}, Care(Wash.MACHINE_40), fast=True)


def cm(length: float) -> str:
    return f"{length:.0f} cm"


def inches(length: float) -> str:
    return f"{length / 2.54:.0f} in"


def test_a_plan_that_is_too_small_is_told_by_how_much() -> None:
    (shorter, longer) = plan_conflicts(Rules(shorter_from=61, longer_from=61), PlanFacts(50, 55))
    assert detail(shorter, cm) == (
        "The blanket would be 50 cm on its shorter side; the receiver takes 61 cm or more:"
        " it is 11 cm short."
    )
    assert detail(longer, cm).startswith("The blanket would be 55 cm on its longer side;")
    assert mend(shorter).startswith("Add columns or rows")


def test_too_wide_for_a_wheelchair_in_the_circles_own_units() -> None:
    rules = Rules(shorter_to=91.44, for_wheelchairs=True)
    (wide,) = plan_conflicts(rules, PlanFacts(127, 101.6))
    assert detail(wide, inches) == (
        "The blanket would be 40 in on its shorter side; the receiver takes 36 in at most:"
        " it is 4 in too much. Excess cloth catches in the wheels."
    )


@pytest.mark.parametrize("code", [ConflictCode.TOO_SMALL, ConflictCode.TOO_LARGE])
@pytest.mark.parametrize("side", ["shorter", "longer"])
@pytest.mark.parametrize(("finished", "verb"), [(True, "is"), (False, "would be")])
def test_each_side_of_a_plan_and_of_a_finished_blanket(
    code: ConflictCode, side: str, finished: bool, verb: str
) -> None:
    facts = {"finished": finished, "is": 50, "least": 61, "short": 11, "most": 40, "over": 10}
    ends = {
        ConflictCode.TOO_SMALL: "61 cm or more: it is 11 cm short.",
        ConflictCode.TOO_LARGE: "40 cm at most: it is 10 cm too much.",
    }
    told = Conflict(code, facts, side)
    begins = f"The blanket {verb} 50 cm on its {side} side; the receiver takes"
    assert detail(told, cm) == f"{begins} {ends[code]}"
    assert ("drive that takes this size" in mend(told)) == finished


@pytest.mark.parametrize(
    ("holes", "babies", "sentence"),
    [
        (1, False, "The layout leaves a hole at B2; the receiver takes none."),
        (2, False, "The layout leaves holes at B2 and C3; the receiver takes none."),
        (
            1,
            True,
            "The layout leaves a hole at B2; the receiver takes none:"
            " fingers and tubes catch in them.",
        ),
    ],
)
def test_holes_in_the_layout(holes: int, babies: bool, sentence: str) -> None:
    places = (Place(2, 2), Place(3, 3))[:holes]
    rules = Rules(holes=False, for_babies=babies)
    (found,) = plan_conflicts(rules, PlanFacts(100, 100, holes=places))
    assert detail(found, cm) == sentence


def test_a_refused_fibre_is_told_with_its_share() -> None:
    (found,) = yarn_conflicts(Rules(refused=frozenset({Fibre.WOOL})), WOOLLY)
    assert detail(found, cm) == "“Moss” has 20 % wool; the receiver refuses it."
    assert mend(found) == (
        "Take a yarn without wool, or ask the receiver whether they make an exception."
    )


def test_only_wanted_fibres() -> None:
    wanted = Rules(wanted=frozenset({Fibre.ACRYLIC, Fibre.POLYAMIDE}))
    (found,) = yarn_conflicts(wanted, WOOLLY)
    assert detail(found, cm) == (
        "“Moss” has 20 % wool; the receiver wants nothing but acrylic and polyamide."
    )
    assert mend(found).startswith("Take a yarn of acrylic and polyamide alone, or ask")


def test_the_temperature_is_told_on_both_sides() -> None:
    (found,) = yarn_conflicts(Rules(temperature=60), WOOLLY)
    assert detail(found, cm) == (
        "“Moss” is washed at 40 °C at most; the receiver washes in the machine at 60 °C."
    )
    (found,) = yarn_conflicts(Rules(machine_wash=True), WOOLLY._replace(care=Care(Wash.HAND)))
    assert detail(found, cm) == (
        "“Moss” cannot go into the washing machine; the receiver washes in the machine."
    )


def test_what_is_doubted_is_told_as_what_to_ask() -> None:
    odds = YarnFacts("Odds", {Fibre.ALPACA: 90, Fibre.OTHER: 10}, Care(Wash.NOT))
    hair, other, washed = yarn_conflicts(NO_WOOL, odds)
    assert detail(hair, cm) == (
        "“Odds” has 90 % alpaca; the receiver refuses wool, and has not said whether they take"
        " the hair of other animals."
    )
    assert detail(other, cm) == "“Odds” has 10 % other fibres; the receiver asks which they are."
    assert detail(washed, cm) == (
        "“Odds” must not be washed; the receiver asks that the blanket be washed before it is"
        " given."
    )
    wool = YarnFacts("Hot", {Fibre.WOOL: 100}, Care(Wash.MACHINE_95))
    (doubt,) = yarn_conflicts(Rules(machine_wash=True), wool)
    assert detail(doubt, cm) == (
        "“Hot” is 100 % wool, hair or silk, and is said to stand 95 °C: even superwash wool seldom"
        " stands more than 40 °C."
    )


def test_what_a_finished_blanket_lacks_or_nobody_has_said_of_it() -> None:
    rules = Rules(smoke_free=True, pet_free=True)
    smoke, pets = finished_conflicts(rules, FinishedFacts(smoke_free=False))
    assert detail(smoke, cm).endswith("come from homes without smoke; this one falls short.")
    assert detail(pets, cm).endswith("be free from pet hair; nobody has said so of this one.")


STRICT = Rules(
    shorter_from=61,
    shorter_to=62,
    longer_from=63,
    longer_to=64,
    wanted=frozenset({Fibre.COTTON}),
    refused=frozenset({Fibre.WOOL}),
    machine_wash=True,
    temperature=60,
    tumble=True,
    fringe=False,
    holes=False,
    smoke_free=True,
    pet_free=True,
    washed=True,
    label=True,
    for_babies=True,
    for_wheelchairs=True,
)
YARNS = (
    WOOLLY,
    YarnFacts("Moss", dark=True),
    WOOLLY._replace(care=Care(Wash.NOT, tumble=Tumble.NOT), fast=False),
    WOOLLY._replace(care=Care(Wash.MACHINE_60_MILD)),
    YarnFacts("Odds", {Fibre.OTHER: 10, Fibre.ALPACA: 90}, Care(Wash.MACHINE_30_VERY_MILD)),
    YarnFacts("Hot", {Fibre.SILK: 60, Fibre.LINEN: 40}, Care(Wash.MACHINE_95)),
)
NO_WOOL = Rules(refused=frozenset({Fibre.WOOL}), washed=True)
WRONG: dict[str, Any] = dict.fromkeys(("washed", "smoke_free", "pet_free", "label"), False)
WRONG |= {"holes": True, "fringe": True}


def everything() -> list[Conflict]:
    """Each kind of conflict in all its shapes."""
    found = [*finished_conflicts(Rules(washed=False), FinishedFacts(washed=True))]
    for yarn, rules in product(YARNS, (STRICT, Rules(machine_wash=True), NO_WOOL)):
        found += yarn_conflicts(rules, yarn)
    for width, height in ((10, 20), (200, 300)):
        found += plan_conflicts(STRICT, PlanFacts(width, height, (Place(2, 2),)))
        found += finished_conflicts(STRICT, FinishedFacts(width, height))
        found += finished_conflicts(STRICT, FinishedFacts(width, height, **WRONG))
    return found


def test_every_conflict_is_said_and_what_mends_it() -> None:
    assert {each.code for each in everything()} == set(ConflictCode)
    for each in everything():
        for sentence in (detail(each, cm), mend(each)):
            assert sentence.endswith(".")
            assert "%(" not in sentence
