"""A short form of ``./dev bench forecast``, with loose bounds: it cannot rot."""

from statistics import fmean

import pytest

from tests.bench.calibration import ALL, Calibrated, crps, look, summed

WORLDS, RUNS = 20, 40
KINDS = ["steady", "two days' pause", "half of the time elsewhere", "meetings only", "weekends"]


@pytest.fixture(scope="module")
def told() -> list[Calibrated]:
    return [
        summed(kind, [look(ALL[kind], seed, 0.5, RUNS) for seed in range(WORLDS)]) for kind in KINDS
    ]


def test_days_come_true_about_as_often_as_they_are_told(told: list[Calibrated]) -> None:
    assert 0.38 < fmean(each.half for each in told) < 0.66
    assert 0.82 < fmean(each.sure for each in told) < 0.99
    for each in told:
        assert 0.2 < each.half < 0.85, each
        assert each.sure > 0.7, each


def test_it_is_better_than_both_plain_rules_in_every_world(told: list[Calibrated]) -> None:
    for each in told:
        assert each.ours < min(each.so_far, each.last_weeks), each


def test_the_score_is_the_integral_of_the_squared_difference() -> None:
    assert crps([3.0], 5.0) == 2
    assert crps([2.0, 4.0], 3.0) == pytest.approx(0.5)
    assert crps([2.0, 4.0], 10.0) == pytest.approx(2 * 0.25 + 6)
