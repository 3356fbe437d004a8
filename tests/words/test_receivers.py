"""Receivers, what is minded for them, and rules that contradict each other, in words."""

import pytest

from drives.craft.receivers.cautions import Caution
from drives.craft.receivers.rules import Contradiction, Muddle
from drives.craft.receivers.sizes import Use
from drives.craft.receivers.sources import Unpublished
from drives.craft.receivers.typical import ReceiverKind
from drives.words.cautions import SENTENCES, caution_words
from drives.words.receivers import (
    RECEIVER_NAMES,
    UNPUBLISHED,
    USES,
    contradiction_words,
    kind_words,
    source_words,
)


@pytest.mark.parametrize(
    ("found", "sentence"),
    [
        (
            Contradiction(Muddle.SIZES, "shorter"),
            "The smallest size of the shorter side is larger than its largest.",
        ),
        (
            Contradiction(Muddle.SIZES, "longer"),
            "The smallest size of the longer side is larger than its largest.",
        ),
        (Contradiction(Muddle.FIBRE, "wool"), "The fibre “wool” is both wanted and refused."),
        (
            Contradiction(Muddle.TEMPERATURE),
            "A temperature or a cycle is told for a machine wash that is not asked.",
        ),
    ],
)
def test_rules_that_no_blanket_could_keep(found: Contradiction, sentence: str) -> None:
    assert contradiction_words(found) == sentence


def test_nothing_is_without_words() -> None:
    assert list(RECEIVER_NAMES) == list(ReceiverKind)
    assert list(USES) == list(Use)
    assert list(UNPUBLISHED) == list(Unpublished)
    assert list(SENTENCES) == list(Caution)


def test_a_citation_stands_as_it_is_and_what_is_none_is_said() -> None:
    assert source_words("muoxford.org.uk/knitting") == "muoxford.org.uk/knitting"
    assert source_words("common-practice") == "common practice"
    assert source_words("") == kind_words("") == ""
    assert kind_words("care-home") == "a care home"


def test_safe_sleep_as_each_country_advises() -> None:
    american, british, general = caution_words(
        Caution.AMERICAN_SLEEP, Caution.BRITISH_SLEEP, Caution.GENERAL_SLEEP
    )
    # American Academy of Pediatrics 2022: no blankets or soft bedding under one year
    assert "under one year" in american.detail
    assert american.source == Caution.AMERICAN_SLEEP.source
    # Scottish Cot Death Trust: light, tucked in, no higher than the shoulders, feet to foot
    for word in ("light", "tucked in", "shoulders", "foot of the cot"):
        assert word in british.detail
        assert word not in american.detail + general.detail
    assert "under one year" in general.detail
    assert "Academy" not in general.detail
    assert general.source == "common practice"
