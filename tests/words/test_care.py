"""Care in the terms and the order of ISO 3758:2023."""

from drives.craft.fibre.care import TREATMENTS, Care
from drives.craft.fibre.treatments import Bleach, DryClean, Iron, Tumble, Wash
from drives.words.care import HEADINGS, SENTENCES, care_lines, treatment_words


def test_the_lines_keep_the_order_of_the_standard() -> None:
    care = Care(Wash.MACHINE_30_MILD, Bleach.NOT, Tumble.NOT, None, Iron.LOW, DryClean.NOT)
    assert care_lines(care) == [
        "Wash in the machine at 30 °C at most, on a mild cycle.",
        "Do not bleach.",
        "Do not tumble dry.",
        "Iron at low heat, without steam.",
        "Do not dry clean.",
    ]


def test_the_sentence_of_a_wash_tells_its_limits() -> None:
    cycles = {2: "a very mild cycle", 3: "a mild cycle"}
    for wash in Wash:
        sentence = treatment_words(wash)
        assert wash.machine == ("machine" in sentence)
        if wash.machine:
            assert f"{wash.temperature} °C" in sentence
            cycle = cycles.get(wash.limits[0])
            assert cycle in sentence if cycle else "cycle" not in sentence


def test_every_treatment_has_its_sentence_and_every_kind_its_heading() -> None:
    assert set(SENTENCES) == {each for kind in TREATMENTS.values() for each in kind}
    assert list(HEADINGS) == list(TREATMENTS)
