"""Student's t against its published table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.numbers.student import below, t_quantile
from tests.craft.situations import often


@pytest.mark.parametrize(
    ("degrees", "ninety", "ninety_five", "most"),
    # Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.10: two-sided 0.8, 0.9
    # and 0.95
    [
        *[(1, 3.078, 6.314, 12.706), (2, 1.886, 2.920, 4.303), (3, 1.638, 2.353, 3.182)],
        *[(4, 1.533, 2.132, 2.776), (5, 1.476, 2.015, 2.571), (10, 1.372, 1.812, 2.228)],
        *[(11, 1.363, 1.796, 2.201), (30, 1.310, 1.697, 2.042), (120, 1.289, 1.658, 1.980)],
        (None, 1.282, 1.645, 1.960),
    ],
)
def test_the_published_table(
    degrees: int | None, ninety: float, ninety_five: float, most: float
) -> None:
    found = [t_quantile(probability, degrees) for probability in (0.9, 0.95, 0.975)]
    assert found == pytest.approx([ninety, ninety_five, most], abs=0.0006)


@often
@given(st.floats(-30, 30), st.floats(0, 5), st.integers(1, 400))
def test_a_distribution(t: float, more: float, degrees: int) -> None:
    found = below(t, degrees)
    assert 0 <= found <= 1
    assert found <= below(t + more, degrees) + 1e-12
    assert below(-t, degrees) == pytest.approx(1 - found)


@often
@given(st.floats(0.001, 0.999), st.integers(1, 400))
def test_there_and_back(probability: float, degrees: int) -> None:
    t = t_quantile(probability, degrees)
    assert below(t, degrees) == pytest.approx(probability, abs=1e-9)


def test_much_seen_is_nearly_normal() -> None:
    assert below(1.3, 2000) == pytest.approx(below(1.3, None), abs=2e-4)
