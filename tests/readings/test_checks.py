"""Plans, yarns and finished blankets held against the receiver's rules."""

from dataclasses import fields
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pytest_django import DjangoAssertNumQueries

from accounts.models import Circle
from drives.actions.colours.by_hand import colour_squares
from drives.actions.drives.rules import note_rules, overrule_conflict
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.treatments import Tumble, Wash
from drives.craft.layout.layout import Layout
from drives.craft.places import Place
from drives.craft.receivers.blanket_rules import (
    FinishedFacts,
    PlanFacts,
    finished_conflicts,
    plan_conflicts,
)
from drives.craft.receivers.cautions import FOR_BABIES, FOR_WHEELCHAIRS, Caution
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.yarn_rules import YarnFacts, yarn_conflicts
from drives.models import Drive, Gift, Yarn
from drives.readings.checks import (
    Check,
    cautions_of,
    colour_checks,
    drive_checks,
    plan_checks,
    refusing,
)
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk
from tests.store import new_yarn

WOOL = {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}
NO_WOOL = Rules(refused=frozenset({Fibre.WOOL}))


def again(drive: Drive) -> Drive:
    """As a page reads it."""
    return Drive.objects.select_related("circle", "receiver").get(pk=drive.pk)


def ask(desk: Desk, cast: Cast, rules: Rules, **more: Any) -> Drive:
    drive = desk.blanket.drive
    note_rules(drive=drive, by=cast.olga, now=NOW, rules=rules, **more)
    return again(drive)


def told(checks: list[Check]) -> list[tuple[str, str]]:
    return [(check.subject, check.conflict.code) for check in checks]


def paint(desk: Desk, cast: Cast, colour: str) -> None:
    colours = {Place.parse("A1"): colour}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=colours, now=NOW)


lengths = st.none() | st.floats(1, 900)
answers = st.none() | st.booleans()
yarns = st.builds(
    YarnFacts,
    name=st.just("moss"),
    fibres=st.none() | st.just(WOOL) | st.just({Fibre.OTHER: 100}),
    care=st.builds(
        Care,
        wash=st.none() | st.sampled_from(Wash),
        tumble=st.none() | st.sampled_from(Tumble),
    ),
    fast=answers,
    dark=st.booleans(),
)
finished = st.builds(
    FinishedFacts,
    width=lengths,
    height=lengths,
    **{name: answers for name in FinishedFacts._fields if name not in ("width", "height")},
)
plans = st.builds(
    PlanFacts,
    st.floats(1, 900),
    st.floats(1, 900),
    st.sampled_from(((), (Place(2, 2),))),
)


@given(yarns, finished, plans)
@settings(max_examples=60, deadline=None)
def test_rules_that_nobody_told_refuse_nothing(
    yarn: YarnFacts, blanket: FinishedFacts, plan: PlanFacts
) -> None:
    assert yarn_conflicts(Rules(), yarn) == []
    assert finished_conflicts(Rules(), blanket) == []
    assert plan_conflicts(Rules(), plan) == []


# What the receiver does itself, or whom it has, makes rules of its own of these.
ALONE = [field.name for field in fields(Rules) if not field.name.startswith("for_")]
VALUES: dict[str, Any] = {"wanted": {Fibre.COTTON}, "refused": {Fibre.WOOL}, "temperature": 60}
VALUES |= {"animal": False, "mild": False}


@pytest.mark.parametrize("name", ALONE)
@given(yarn=yarns, blanket=finished, plan=plans)
@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_one_rule_alone_finds_only_what_it_is_about(
    name: str, yarn: YarnFacts, blanket: FinishedFacts, plan: PlanFacts
) -> None:
    value = VALUES.get(name, 50.0 if "er_" in name else True)
    told: dict[str, Any] = {name: frozenset(value) if isinstance(value, set) else value}
    rules = Rules(**told)
    about = {
        "wanted": {"fibres-unknown", "fibre-not-wanted"},
        "refused": {"fibres-unknown", "fibre-refused", "hair-like-wool"},
        "animal": {"fibres-unknown", "fibre-refused"},
        "label": {"fibres-unknown", "no-label"},
        "machine_wash": {"washing-unknown", "not-machine-washable", "dye-runs", "dye-untested"}
        | {"wool-washed-hot"},
        "temperature": {"washing-unknown", "not-machine-washable", "washed-too-hot", "dye-runs"}
        | {"dye-untested", "cycle-too-rough", "wool-washed-hot"},
        "tumble": {"drying-unknown", "not-tumble-dried"},
        "washed": {"not-washed", "not-washable", "dye-runs", "dye-untested"},
        "smoke_free": {"smoke"},
        "pet_free": {"pets"},
    }.get(name, {"too-small", "too-large"} if "er_" in name else set())
    conflicts = [
        *yarn_conflicts(rules, yarn),
        *finished_conflicts(rules, blanket),
        *plan_conflicts(rules, plan),
    ]
    assert {conflict.code for conflict in conflicts} <= about


def test_a_drive_without_rules_reads_nothing(
    cast: Cast, desk: Desk, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    drive = again(desk.blanket.drive)
    with django_assert_num_queries(0):
        assert drive_checks(drive) == []
        assert colour_checks([drive], ["moss"]) == {}


@pytest.mark.parametrize("blankets", [1, 3])
def test_everything_of_a_drive_in_few_queries(
    cast: Cast, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries, blankets: int
) -> None:
    desks = [plan()]
    desks += [plan(drive=desks[0].blanket.drive) for _more in range(blankets - 1)]
    new_yarn(cast.cora, colour="moss", fibres=WOOL)
    drive = ask(desks[0], cast, Rules(shorter_from=30, refused=NO_WOOL.refused, label=True))
    for desk in desks:
        paint(desk, cast, "moss")
        Gift.objects.create(blanket=desk.blanket, holes=True)
        desk.blanket.plan()
    with django_assert_num_queries(4):  # blankets, gifts, yarns, overrulings
        checks = drive_checks(drive)
    assert len(checks) == 2 * blankets + 1


def test_the_plan_is_told_in_the_circles_units_and_what_mends_it(cast: Cast, desk: Desk) -> None:
    desk.blanket.drive.circle.units = "in"
    desk.blanket.drive.circle.save(update_fields=["units"])
    (check,) = drive_checks(ask(desk, cast, Rules(shorter_from=25.4)))
    # 20 cm are 7.9 inches
    assert "8 in on its shorter side; the receiver takes 10 in or more" in check.detail
    assert check.mend.startswith("Add columns or rows")
    assert check.title == "Blanket"


def test_a_border_counts_where_it_is_told(cast: Cast, desk: Desk) -> None:
    drive = ask(desk, cast, Rules(shorter_from=24, longer_from=24))
    layout = desk.blanket.layout()
    assert len(plan_checks(drive, layout, 20)) == 2
    # 4 ridges are 2 cm on each side
    assert plan_checks(drive, layout, 20, border=4) == []


def test_a_sketch_knows_what_was_overruled_of_its_blanket(cast: Cast, desk: Desk) -> None:
    drive = ask(desk, cast, Rules(shorter_from=24))
    layout = Layout(2, 1, 20)
    (check,) = plan_checks(drive, layout, 20, blanket=desk.blanket)
    overrule_conflict(drive=drive, by=cast.olga, check=check, reason="For a doll.", now=NOW)
    (check,) = plan_checks(drive, layout, 20, blanket=desk.blanket)
    assert check.overruled is not None
    (check,) = plan_checks(drive, layout, 20)
    assert check.overruled is None


def test_a_refused_yarn_is_told_once_a_square_is_to_be_knitted_with_it(
    cast: Cast, desk: Desk
) -> None:
    yarn = new_yarn(cast.cora, colour="moss", fibres=WOOL)
    drive = ask(desk, cast, NO_WOOL)
    assert drive_checks(drive) == []
    assert told(drive_checks(drive, whole_store=True)) == [(f"yarn {yarn.pk}", "fibre-refused")]
    paint(desk, cast, "moss")
    (check,) = drive_checks(drive)
    assert check.of_yarn
    assert check.detail == "“moss” has 20 % wool; the receiver refuses it."
    assert drive_checks(drive, blanket=desk.blanket) == [check]
    assert colour_checks([drive], ["moss", "rust", ""]) == {(drive.pk, "moss"): [check]}


def test_yarn_of_another_circle_is_nobodys_business(cast: Cast, desk: Desk) -> None:
    yarn = new_yarn(cast.cora, colour="moss", fibres=WOOL)
    Yarn.objects.filter(pk=yarn.pk).update(circle=Circle.objects.get(name="Elsewhere"))
    paint(desk, cast, "moss")
    drive = ask(desk, cast, NO_WOOL)
    assert drive_checks(drive, whole_store=True) == []
    assert colour_checks([drive], ["moss"]) == {}


def test_a_finished_blanket_is_held_against_the_rules_once_it_is_described(
    cast: Cast, desk: Desk
) -> None:
    drive = ask(desk, cast, Rules(smoke_free=True, fringe=False, longer_to=20))
    assert drive_checks(drive) == []
    Gift.objects.create(
        blanket=desk.blanket, width=Decimal(20), height=Decimal(24), fringe=True, smoke_free=None
    )
    of = f"blanket {desk.blanket.pk}"
    assert told(drive_checks(drive)) == [(of, "too-large"), (of, "fringe"), (of, "smoke")]


def test_what_a_finished_blanket_tells_itself_is_not_told_of_its_plan_too(
    cast: Cast, plan: Plan
) -> None:
    desk = plan(3, 3, missing=frozenset({Place.parse("B2")}))  # 30 cm, measured as 33 cm
    drive = ask(desk, cast, Rules(shorter_from=40, longer_from=30, holes=False))
    plan_id, gift_id = f"plan {desk.blanket.pk}", f"blanket {desk.blanket.pk}"
    planned = [(plan_id, "too-small"), (plan_id, "holes")]
    assert told(drive_checks(drive)) == planned
    gift = Gift.objects.create(blanket=desk.blanket, width=Decimal(33))
    assert told(drive_checks(drive)) == planned
    gift.height, gift.holes = Decimal(33), False  # somebody has filled it
    gift.save()
    (check,) = drive_checks(drive)
    assert check.subject == gift_id
    assert "is 33 cm on its shorter side" in check.detail


def test_for_each_yarn_who_refuses_it_but_where_that_is_overruled(
    cast: Cast, desk: Desk, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    yarns = [new_yarn(cast.cora, colour="moss", fibres=WOOL), new_yarn(cast.cora, colour="rust")]
    drives = [ask(desk, cast, NO_WOOL), ask(plan(), cast, NO_WOOL), again(plan().blanket.drive)]
    check = drive_checks(drives[0], whole_store=True)[0]
    overrule_conflict(
        drive=drives[0], by=cast.olga, check=check, reason="It is superwash.", now=NOW
    )
    with django_assert_num_queries(1):  # the overrulings
        refused = refusing(drives, yarns)
    assert [(drive, check.conflict.code) for drive, check in refused[yarns[0].pk]] == [
        (drives[1], "fibre-refused")
    ]
    assert [(drive, check.conflict.code) for drive, check in refused[yarns[1].pk]] == [
        (drives[0], "fibres-unknown"),
        (drives[1], "fibres-unknown"),
    ]


def test_what_is_minded_follows_the_country_and_the_rules(cast: Cast, plan: Plan) -> None:
    assert cautions_of(again(plan().blanket.drive)) == ()
    babies = plan(for_babies=True)
    assert set(FOR_BABIES) < set(cautions_of(again(babies.blanket.drive)))
    assert Caution.BRITISH_SLEEP in cautions_of(ask(babies, cast, Rules(), country="GB"))
    assert Caution.BRITISH_SLEEP not in cautions_of(ask(babies, cast, Rules(), country="US"))
    chairs = ask(plan(), cast, Rules(for_wheelchairs=True), country="GB")
    assert cautions_of(chairs) == FOR_WHEELCHAIRS
