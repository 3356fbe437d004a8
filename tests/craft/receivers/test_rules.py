"""What receivers ask, typical and their own. Sizes: as in test_sizing and recipients."""

from dataclasses import asdict

import pytest

from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Contradiction, Muddle, Rules, contradictions
from drives.craft.receivers.sources import Unpublished
from drives.craft.receivers.typical import TEMPLATES, ReceiverKind


@pytest.mark.parametrize("kind", ReceiverKind)
def test_each_typical_rule_names_its_source(kind: ReceiverKind) -> None:
    rules, sources = TEMPLATES[kind]
    told = {field for field, value in asdict(rules).items() if value is not None}
    assert told == set(sources)
    assert all(sources.values())
    assert not contradictions(rules)


def test_sizes_come_from_published_pages() -> None:
    # muoxford.org.uk/knitting: 24 × 24 in at least
    unit = TEMPLATES[ReceiverKind.NEONATAL_UNIT]
    assert unit.rules.shorter_from == unit.rules.longer_from == pytest.approx(60.96)
    assert unit.sources["shorter_from"] == "muoxford.org.uk/knitting"
    # sjlinus.org/blankets-specifications: 45 × 60 in for a child, 60 × 72 in for a teenager
    ward = TEMPLATES[ReceiverKind.CHILDRENS_WARD].rules
    assert (ward.shorter_from, ward.longer_from) == pytest.approx((114.3, 152.4))
    assert (ward.shorter_to, ward.longer_to) == pytest.approx((152.4, 182.88))
    # justastitchaway.blogspot.com/2008/03/afghan-blanket-sizes.html: about 36 in wide
    chair = TEMPLATES[ReceiverKind.WHEELCHAIR_USERS]
    assert chair.rules.shorter_to == pytest.approx(91.44)
    assert chair.rules.longer_to is None
    assert "justastitchaway" in chair.sources["shorter_to"]


def test_what_no_source_tells_is_left_to_be_asked() -> None:
    for kind in (ReceiverKind.REFUGE, ReceiverKind.CARE_HOME):
        assert TEMPLATES[kind].rules == Rules(machine_wash=True)
        assert TEMPLATES[kind].sources == {"machine_wash": Unpublished.COMMON}
    # Receivers contradict each other on these.
    for template in TEMPLATES.values():
        assert template.rules.wanted is None
        assert template.rules.refused is None
        assert template.rules.washed is None


def test_for_babies_neither_holes_nor_fringe_unless_the_receiver_says_so() -> None:
    babies = Rules(for_babies=True)
    assert babies.holes_allowed is babies.fringe_allowed is False
    asked = Rules(for_babies=True, holes=True, fringe=True)
    assert asked.holes_allowed is asked.fringe_allowed is True
    assert Rules().holes_allowed is Rules().fringe_allowed is None
    assert Rules(holes=False).holes_allowed is False


def test_rules_that_no_blanket_could_keep() -> None:
    assert contradictions(Rules()) == ()
    assert contradictions(Rules(shorter_from=60, shorter_to=60, wanted=frozenset(Fibre))) == ()
    muddled = Rules(
        shorter_from=90,
        shorter_to=60,
        longer_from=90,
        longer_to=89,
        wanted=frozenset({Fibre.WOOL, Fibre.COTTON}),
        refused=frozenset({Fibre.WOOL}),
        machine_wash=False,
        temperature=40,
    )
    beasts = Rules(animal=False, wanted=frozenset({Fibre.SILK, Fibre.COTTON}))
    assert contradictions(beasts) == (Contradiction(Muddle.FIBRE, "silk"),)
    by_hand = Rules(machine_wash=False, mild=True)
    assert contradictions(by_hand) == (Contradiction(Muddle.TEMPERATURE),)
    assert contradictions(muddled) == (
        Contradiction(Muddle.SIZES, "shorter"),
        Contradiction(Muddle.SIZES, "longer"),
        Contradiction(Muddle.FIBRE, "wool"),
        Contradiction(Muddle.TEMPERATURE),
    )
