"""Plans, yarns and finished blankets against the receiver's rules."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre, Fibres
from drives.craft.fibre.treatments import Tumble, Wash
from drives.craft.layout.border import holes
from drives.craft.layout.layout import Large, Layout
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

WOOLLY = YarnFacts("Moss", {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}, Care(Wash.HAND), fast=True)


def codes(conflicts: list[Conflict]) -> list[tuple[str, str]]:
    assert all(json.loads(json.dumps(one.facts)) == one.facts for one in conflicts)
    return [(one.code, one.about) for one in conflicts]


@given(st.tuples(st.floats(1, 900), st.floats(1, 900)), st.booleans())
@settings(max_examples=20)
def test_rules_that_were_not_told_never_conflict(sides: tuple[float, float], told: bool) -> None:
    assert not plan_conflicts(Rules(), PlanFacts(*sides, holes=(Place(2, 2),)))
    assert not finished_conflicts(Rules(), FinishedFacts(*sides, *[told] * 6))
    assert not yarn_conflicts(Rules(), YarnFacts("any", None, Care(), fast=None, dark=True))
    assert not yarn_conflicts(Rules(), YarnFacts("any", {Fibre.WOOL: 100}, Care(Wash.NOT)))


def test_a_plan_that_is_too_small_is_told_by_how_much() -> None:
    (shorter, longer) = plan_conflicts(Rules(shorter_from=61, longer_from=61), PlanFacts(50, 55))
    assert shorter == Conflict(
        ConflictCode.TOO_SMALL, {"finished": False, "is": 50, "least": 61, "short": 11}, "shorter"
    )
    assert codes([shorter, longer]) == [("too-small", "shorter"), ("too-small", "longer")]


def test_a_blanket_may_be_turned() -> None:
    rules = Rules(shorter_from=80, shorter_to=90, longer_from=110, longer_to=130)
    assert not plan_conflicts(rules, PlanFacts(85, 120))
    assert not plan_conflicts(rules, PlanFacts(120, 85))
    assert codes(plan_conflicts(rules, PlanFacts(100, 140))) == [
        ("too-large", "shorter"),
        ("too-large", "longer"),
    ]


def test_what_a_tape_measure_does_not_tell_is_no_conflict() -> None:
    rules = Rules(shorter_from=61, shorter_to=61)
    for width in (60.3, 61.7):
        assert not plan_conflicts(rules, PlanFacts(width, 100))
    for width, code in ((60.2, "too-small"), (61.8, "too-large")):
        assert codes(plan_conflicts(rules, PlanFacts(width, 100))) == [(code, "shorter")]


def test_too_wide_for_a_wheelchair() -> None:
    rules = Rules(shorter_to=90, for_wheelchairs=True)
    (wide,) = plan_conflicts(rules, PlanFacts(127, 100))
    assert wide == Conflict(
        ConflictCode.TOO_LARGE,
        {"finished": False, "is": 100, "most": 90, "over": 10, "wheelchairs": True},
        "shorter",
    )


def test_holes_in_the_layout() -> None:
    hole = Layout(5, 4, 20, missing=frozenset({Place(2, 2), Place(5, 4)}))
    plan = PlanFacts.of(hole, gauge=20, border=5)
    assert plan == (55, 45, (Place(2, 2),))  # squares of 10 cm, a border of 2.5; E4 lies open
    (found,) = plan_conflicts(Rules(for_babies=True), plan)
    assert found == Conflict(
        ConflictCode.HOLES, {"finished": False, "places": ["B2"], "babies": True}
    )
    assert not plan_conflicts(Rules(for_babies=True, holes=True), plan)
    assert codes(plan_conflicts(Rules(holes=False), plan)) == [("holes", "")]


def test_places_are_a_hole_only_where_squares_enclose_them() -> None:
    inside, bay = {Place(2, 2), Place(3, 2)}, {Place(1, 4), Place(2, 4)}
    layout = Layout(4, 6, 20, missing=frozenset(inside | bay))
    assert holes(layout) == (Place(2, 2), Place(3, 2))
    ringed = Layout(
        4, 3, 20, missing=frozenset({Place(3, 2)}), large=frozenset({Large(Place(1, 1), 2)})
    )
    assert holes(ringed) == (Place(3, 2),)
    assert holes(Layout(3, 3, 20)) == ()


def test_a_refused_fibre_is_told_with_its_share() -> None:
    (found,) = yarn_conflicts(Rules(refused=frozenset({Fibre.WOOL})), WOOLLY)
    assert found == Conflict(ConflictCode.FIBRE_REFUSED, {"yarn": "Moss", "share": 20}, "wool")


def test_only_wanted_fibres() -> None:
    wanted = Rules(wanted=frozenset({Fibre.ACRYLIC, Fibre.POLYAMIDE}))
    (found,) = yarn_conflicts(wanted, WOOLLY)
    facts = {"yarn": "Moss", "share": 20, "wanted": ["acrylic", "polyamide"]}
    assert found == Conflict(ConflictCode.FIBRE_NOT_WANTED, facts, "wool")
    assert not yarn_conflicts(wanted, WOOLLY._replace(fibres={Fibre.ACRYLIC: 100}))
    assert not yarn_conflicts(Rules(wanted=frozenset(), refused=frozenset()), WOOLLY)


@pytest.mark.parametrize(
    "rules",
    [Rules(refused=frozenset({Fibre.WOOL})), Rules(wanted=frozenset(Fibre)), Rules(label=True)],
)
def test_unknown_fibres_conflict_where_fibres_matter(rules: Rules) -> None:
    assert codes(yarn_conflicts(rules, WOOLLY._replace(fibres=None))) == [("fibres-unknown", "")]


@pytest.mark.parametrize(
    ("wash", "temperature", "code"),
    [
        (None, None, "washing-unknown"),
        (Wash.HAND, 30, "not-machine-washable"),
        (Wash.NOT, None, "not-machine-washable"),
        (Wash.MACHINE_40, 60, "washed-too-hot"),
        (Wash.MACHINE_40, 40, ""),
        (Wash.MACHINE_40_MILD, 40, "cycle-too-rough"),
        (Wash.MACHINE_40_MILD, None, ""),
    ],
)
def test_the_washing_machine(wash: Wash | None, temperature: int | None, code: str) -> None:
    found = yarn_conflicts(
        Rules(machine_wash=True, temperature=temperature), WOOLLY._replace(care=Care(wash))
    )
    assert codes(found) == ([(code, "")] if code else [])


@pytest.mark.parametrize(
    ("rules", "found"),
    [
        (Rules(machine_wash=True), (False, False, False)),  # they are thought to go by the band
        (Rules(temperature=40), (False, True, True)),
        (Rules(temperature=40, mild=True), (False, False, True)),
        (Rules(machine_wash=True, mild=False), (False, True, True)),
        (Rules(machine_wash=True, mild=True), (False, False, True)),
    ],
)
def test_the_cycle_of_the_washing_machine(rules: Rules, found: tuple[bool, ...]) -> None:
    """F8 of the review: “40 °C, very mild” was taken for a machine at 40 °C."""
    washes = (Wash.MACHINE_40, Wash.MACHINE_40_MILD, Wash.MACHINE_40_VERY_MILD)
    for wash, too_rough in zip(washes, found, strict=True):
        told = codes(yarn_conflicts(rules, WOOLLY._replace(care=Care(wash))))
        assert told == [("cycle-too-rough", "")] * too_rough


@pytest.mark.parametrize(
    ("fibres", "wash", "doubted"),
    [
        ({Fibre.WOOL: 100}, Wash.MACHINE_95, True),
        ({Fibre.WOOL: 75, Fibre.POLYAMIDE: 25}, Wash.MACHINE_60, True),
        ({Fibre.WOOL: 30, Fibre.SILK: 20, Fibre.COTTON: 50}, Wash.MACHINE_50, True),
        ({Fibre.WOOL: 100}, Wash.MACHINE_40, False),  # superwash may
        ({Fibre.WOOL: 49, Fibre.COTTON: 51}, Wash.MACHINE_95, False),
        ({Fibre.COTTON: 100}, Wash.MACHINE_95, False),
        (None, Wash.MACHINE_95, False),
    ],
)
def test_wool_that_is_said_to_stand_much_heat_is_doubted(
    fibres: Fibres | None, wash: Wash, doubted: bool
) -> None:
    found = yarn_conflicts(Rules(machine_wash=True), YarnFacts("Hot", fibres, Care(wash)))
    assert codes(found) == [("wool-washed-hot", "")] * doubted
    assert not yarn_conflicts(Rules(), YarnFacts("Hot", fibres, Care(wash)))


@pytest.mark.parametrize("wash", [*Wash, None])
def test_what_is_washed_before_it_is_given_must_be_washable(wash: Wash | None) -> None:
    found = yarn_conflicts(Rules(washed=True), YarnFacts("any", {Fibre.SILK: 100}, Care(wash)))
    assert codes(found) == [("not-washable", "")] * (wash is Wash.NOT)
    by_machine = Rules(washed=True, machine_wash=True)
    both = yarn_conflicts(by_machine, WOOLLY._replace(care=Care(Wash.NOT)))
    assert codes(both) == [("not-machine-washable", "")]  # told once


HAIRY = {Fibre.ALPACA: 50, Fibre.SILK: 30, Fibre.OTHER: 20}


@pytest.mark.parametrize(
    ("rules", "found"),
    [
        (Rules(), []),
        (Rules(animal=True), []),
        (Rules(animal=False), ["fibre-refused", "fibre-refused", "fibres-unknown"]),
        (Rules(refused=frozenset({Fibre.WOOL})), ["hair-like-wool", "fibres-unknown"]),
        (Rules(refused=frozenset({Fibre.WOOL}), animal=True), ["fibres-unknown"]),
        (Rules(refused=frozenset({Fibre.RUBBER})), ["fibres-unknown"]),
        (Rules(refused=frozenset({Fibre.OTHER})), ["fibre-refused"]),
        (Rules(label=True), ["fibres-unknown"]),
        (Rules(wanted=frozenset(HAIRY)), []),
        (Rules(wanted=frozenset({Fibre.ALPACA, Fibre.SILK})), ["fibre-not-wanted"]),
    ],
)
def test_what_comes_from_animals_and_what_nobody_knows(rules: Rules, found: list[str]) -> None:
    told = yarn_conflicts(rules, YarnFacts("Odds", HAIRY))
    assert [code for code, _about in codes(told)] == found


def test_latex_can_be_refused() -> None:
    elastic = YarnFacts("Stretch", {Fibre.COTTON: 97, Fibre.RUBBER: 3})
    (found,) = yarn_conflicts(Rules(refused=frozenset({Fibre.RUBBER})), elastic)
    assert found == Conflict(ConflictCode.FIBRE_REFUSED, {"yarn": "Stretch", "share": 3}, "rubber")


def test_the_temperature_is_told_on_both_sides() -> None:
    yarn = WOOLLY._replace(care=Care(Wash.MACHINE_40))
    (found,) = yarn_conflicts(Rules(temperature=60), yarn)
    facts = {"yarn": "Moss", "temperature": 60, "stands": 40}
    assert found == Conflict(ConflictCode.WASHED_TOO_HOT, facts)


@pytest.mark.parametrize(
    ("tumble", "code"),
    [(None, "drying-unknown"), (Tumble.NOT, "not-tumble-dried"), (Tumble.LOW, "")],
)
def test_the_tumble_dryer(tumble: Tumble | None, code: str) -> None:
    found = yarn_conflicts(Rules(tumble=True), WOOLLY._replace(care=Care(tumble=tumble)))
    assert codes(found) == ([(code, "")] if code else [])


@pytest.mark.parametrize(
    ("fast", "dark", "code"),
    [
        (False, False, "dye-runs"),
        (False, True, "dye-runs"),
        (None, True, "dye-untested"),
        (None, False, ""),
        (True, True, ""),
    ],
)
def test_dye_matters_where_the_blanket_is_washed(fast: bool | None, dark: bool, code: str) -> None:
    yarn = YarnFacts("Wine", {Fibre.ACRYLIC: 100}, Care(Wash.MACHINE_60), fast, dark)
    for rules in (Rules(machine_wash=True), Rules(washed=True), Rules(temperature=40)):
        assert codes(yarn_conflicts(rules, yarn)) == ([(code, "")] if code else [])


def test_all_that_is_wrong_with_one_yarn() -> None:
    rules = Rules(refused=frozenset({Fibre.WOOL}), machine_wash=True, tumble=True)
    yarn = YarnFacts("Wine", {Fibre.WOOL: 100}, Care(Wash.HAND, tumble=Tumble.NOT), dark=True)
    assert [code for code, _ in codes(yarn_conflicts(rules, yarn))] == [
        "fibre-refused",
        "not-machine-washable",
        "not-tumble-dried",
        "dye-untested",
    ]


def test_a_finished_blanket_is_held_against_all_that_was_asked() -> None:
    rules = Rules(
        shorter_from=61,
        longer_to=100,
        fringe=False,
        holes=False,
        smoke_free=True,
        pet_free=True,
        washed=True,
        label=True,
    )
    wrong = FinishedFacts(50, 120, holes=True, fringe=True, washed=False, smoke_free=False)
    expected = ["too-small", "too-large", "holes", "fringe", "not-washed", "smoke"]
    found = finished_conflicts(rules, wrong)
    assert [code for code, _ in codes(found)] == [*expected, "pets", "no-label"]
    assert found[0].facts == {"finished": True, "is": 50, "least": 61, "short": 11}
    assert found[2].facts == {"finished": True, "babies": False}
    assert [one.facts for one in found[4:]] == [{"told": told} for told in (1, 1, 0, 0)]
    right = FinishedFacts(70, 90, False, False, True, True, True, True)
    assert not finished_conflicts(rules, right)


def test_what_was_not_measured_is_no_conflict() -> None:
    strict = Rules(shorter_from=61, holes=False, fringe=False, washed=False)
    assert not finished_conflicts(strict, FinishedFacts(height=10))
    assert codes(finished_conflicts(strict, FinishedFacts(washed=True))) == [("washed", "")]
