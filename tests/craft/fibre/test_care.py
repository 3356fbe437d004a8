"""Care in the terms and the order of ISO 3758:2023."""

from itertools import combinations_with_replacement

import pytest

from drives.craft.fibre.care import TREATMENTS, Care, gentlest
from drives.craft.fibre.notation import CARE_CODES, care_code
from drives.craft.fibre.treatments import (
    Bleach,
    DryClean,
    Iron,
    Natural,
    Treatment,
    Tumble,
    Wash,
    WetClean,
)


@pytest.mark.parametrize(
    ("one", "other", "both"),
    [
        (Wash.MACHINE_60, Wash.MACHINE_30_VERY_MILD, Wash.MACHINE_30_VERY_MILD),
        (Wash.MACHINE_60_MILD, Wash.MACHINE_40, Wash.MACHINE_40_MILD),
        (Wash.MACHINE_95, Wash.MACHINE_50_MILD, Wash.MACHINE_50_MILD),
        (Wash.MACHINE_95, Wash.HAND, Wash.HAND),
        # By hand at 30 °C has no term of its own, so it is cooler still.
        (Wash.MACHINE_30, Wash.HAND, Wash.HAND_AMBIENT),
        (Wash.MACHINE_95, Wash.NOT, Wash.NOT),
    ],
)
def test_the_gentler_wash_in_cycle_and_in_temperature(one: Wash, other: Wash, both: Wash) -> None:
    assert gentlest([Care(wash=one), Care(wash=other)]).wash is both
    assert gentlest([Care(wash=other), Care(wash=one)]).wash is both


@pytest.mark.parametrize("kind", [Wash, Bleach, Tumble, Natural, Iron, DryClean, WetClean])
def test_both_yarns_stand_the_gentlest_and_nothing_rougher(kind: type[Treatment]) -> None:
    field = list(Care.__annotations__).index(
        next(name for name, told in Care.__annotations__.items() if kind.__name__ in str(told))
    )

    def stands(yarn: Treatment, treatment: Treatment) -> bool:
        return all(a <= b for a, b in zip(treatment.limits, yarn.limits, strict=True))

    for one, other in combinations_with_replacement(kind, 2):
        cares = [Care(*(yarn if i == field else None for i in range(7))) for yarn in (one, other)]  # type: ignore[arg-type]
        found = gentlest(cares)[field]
        assert found is not None
        assert stands(one, found)
        assert stands(other, found)
        rougher = [t for t in kind if t is not found and stands(t, found)]
        assert not any(stands(one, t) and stands(other, t) for t in rougher)


def test_each_treatment_by_itself() -> None:
    wool = Care(
        Wash.HAND, Bleach.NOT, Tumble.NOT, Natural.FLAT, Iron.MEDIUM, DryClean.P, WetClean.MILD
    )
    acrylic = Care(
        Wash.MACHINE_40_MILD,
        Bleach.OXYGEN,
        Tumble.LOW,
        Natural.DRIP_LINE,
        Iron.LOW,
        DryClean.F_MILD,
        WetClean.NORMAL,
    )
    assert gentlest([wool, acrylic]) == Care(
        Wash.HAND,
        Bleach.NOT,
        Tumble.NOT,
        Natural.DRIP_FLAT,
        Iron.LOW,
        DryClean.F_MILD,
        WetClean.MILD,
    )
    assert gentlest([acrylic]) == acrylic


def test_what_one_yarn_does_not_tell_is_not_known_of_the_blanket() -> None:
    found = gentlest([Care(wash=Wash.MACHINE_40, tumble=Tumble.NOT), Care()])
    assert found == Care(tumble=Tumble.NOT)  # whatever the other one stands
    assert gentlest([]) == Care()


def test_the_name_of_a_wash_tells_its_limits() -> None:
    cycles = {2: "VERY_MILD", 3: "MILD"}
    for wash in Wash:
        assert wash.machine == wash.name.startswith("MACHINE")
        if wash.machine:
            parts = [f"MACHINE_{wash.temperature}", cycles.get(wash.limits[0])]
            assert wash.name == "_".join(filter(None, parts))
    assert not Wash.HAND.machine
    assert Wash.HAND.temperature == 40


def test_care_has_a_code_for_each_treatment_in_the_order_of_the_standard() -> None:
    care = Care(Wash.MACHINE_30_MILD, Bleach.NOT, None, Natural.DRIP_FLAT, iron=Iron.MEDIUM_DRY)
    assert care_code(care) == "wash-30-mild bleach-no air-drip-flat iron-medium-dry"
    assert care_code(Care(dry_clean=DryClean.P_MILD, wet_clean=WetClean.NOT)) == (
        "dryclean-p-mild wetclean-no"
    )
    assert care_code(Care()) == ""


def test_no_two_treatments_share_a_code() -> None:
    assert len(CARE_CODES) == sum(len(kind) for kind in TREATMENTS.values())
    for code, (kind, treatment) in CARE_CODES.items():
        assert care_code(Care(**{kind: treatment})) == code  # type: ignore[arg-type]
