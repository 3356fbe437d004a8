"""Which colours look alike, and whether the library's CIEDE2000 is the published one."""

from time import process_time

import pytest
from coloraide import Color

from drives.drawing.colours import YARNS
from drives.drawing.vision import CLEAR, Sight, alike_colours, dark

Lab = tuple[float, float, float]

# Sharma, Wu and Dalal, The CIEDE2000 color-difference formula: implementation notes, supplementary
# test data, and mathematical observations, Color Research and Application 30(1), 2005, Table 1:
# two colours in CIELAB and their difference.
PUBLISHED: list[tuple[Lab, Lab, float]] = [
    ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
    ((50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
    ((50, 2.8361, -74.0200), (50, 0, -82.7485), 3.4412),
    ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    ((50, -1.1848, -84.8006), (50, 0, -82.7485), 1.0000),
    ((50, -0.9009, -85.5211), (50, 0, -82.7485), 1.0000),
    ((50, 0, 0), (50, -1, 2), 2.3669),
    ((50, -1, 2), (50, 0, 0), 2.3669),
    ((50, 2.49, -0.001), (50, -2.49, 0.0009), 7.1792),
    ((50, 2.49, -0.001), (50, -2.49, 0.0010), 7.1792),
    ((50, 2.49, -0.001), (50, -2.49, 0.0011), 7.2195),
    ((50, 2.49, -0.001), (50, -2.49, 0.0012), 7.2195),
    ((50, -0.001, 2.49), (50, 0.0009, -2.49), 4.8045),
    ((50, -0.001, 2.49), (50, 0.0010, -2.49), 4.8045),
    ((50, -0.001, 2.49), (50, 0.0011, -2.49), 4.7461),
    ((50, 2.5, 0), (50, 0, -2.5), 4.3065),
    ((50, 2.5, 0), (73, 25, -18), 27.1492),
    ((50, 2.5, 0), (61, -5, 29), 22.8977),
    ((50, 2.5, 0), (56, -27, -3), 31.9030),
    ((50, 2.5, 0), (58, 24, 15), 19.4535),
    ((50, 2.5, 0), (50, 3.1736, 0.5854), 1.0000),
    ((50, 2.5, 0), (50, 3.2972, 0), 1.0000),
    ((50, 2.5, 0), (50, 1.8634, 0.5757), 1.0000),
    ((50, 2.5, 0), (50, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]


def yarns(*names: str) -> dict[str, str]:
    return {name: YARNS[name] for name in names}


def test_all_published_pairs_are_here() -> None:
    assert len(set(PUBLISHED)) == 34


@pytest.mark.parametrize(("one", "other", "difference"), PUBLISHED)
def test_the_difference_is_the_published_one(one: Lab, other: Lab, difference: float) -> None:
    first, second = Color("lab-d65", one), Color("lab-d65", other)
    assert first.delta_e(second, method="2000") == pytest.approx(difference, abs=0.00005)
    assert second.delta_e(first, method="2000") == pytest.approx(difference, abs=0.00005)


def test_red_and_green_look_alike_to_those_who_see_green_weakly() -> None:
    (pair,) = alike_colours(yarns("red", "green"))
    assert set(pair.differences) == {Sight.DEUTAN}
    assert pair.nearest == pair.differences[Sight.DEUTAN] < CLEAR


def test_blue_and_teal_look_alike_to_those_who_see_blue_weakly() -> None:
    (pair,) = alike_colours(yarns("blue", "teal"))
    assert set(pair.differences) == {Sight.TRITAN}


def test_a_pair_that_most_people_confuse_is_told_as_such() -> None:
    (pair,) = alike_colours(yarns("burgundy", "wine"))
    assert set(pair.differences) == set(Sight)


def test_several_kinds_of_sight_may_confuse_a_pair() -> None:
    (pair,) = alike_colours({"sea moss": YARNS["purple"], "sky": YARNS["blue"]})
    assert (pair.one, pair.other) == ("sea moss", "sky")
    assert set(pair.differences) == {Sight.PROTAN, Sight.DEUTAN}


def test_light_and_dark_are_told_apart_by_everybody() -> None:
    assert not alike_colours(yarns("navy", "cream", "rust"))
    assert not alike_colours({"one": "#abc"})
    assert not alike_colours({})


def test_the_nearest_pair_comes_first_and_each_pair_once() -> None:
    found = alike_colours(yarns("red", "rust", "moss", "green", "wine", "burgundy"))
    assert found == sorted(found, key=lambda pair: pair.nearest)
    pairs = [frozenset((pair.one, pair.other)) for pair in found]
    assert len(pairs) == len(set(pairs))


def test_what_differs_by_as_much_as_is_clear_is_told_apart() -> None:
    (pair,) = alike_colours(yarns("red", "green"))
    assert not alike_colours(yarns("red", "green"), clear=pair.nearest)
    assert alike_colours(yarns("red", "green"), clear=pair.nearest + 0.01) == [pair]


def test_what_is_no_colour_is_refused() -> None:
    with pytest.raises(ValueError):
        alike_colours({"one": "no colour", "other": "#fff"})


@pytest.mark.parametrize(
    ("name", "is_dark"),
    [
        *(("black", True), ("navy", True), ("wine", True), ("red", True)),
        *(("sky", False), ("cream", False), ("grey", False), ("coral", False)),
    ],
)
def test_dark_yarns_bleed_most(name: str, is_dark: bool) -> None:
    assert dark(YARNS[name]) is is_dark


def test_twelve_colours_while_one_waits() -> None:
    palette = dict(list(YARNS.items())[:12])
    alike_colours(palette)  # the library's tables are made once
    begun = process_time()
    alike_colours(palette)
    assert process_time() - begun < 0.05
