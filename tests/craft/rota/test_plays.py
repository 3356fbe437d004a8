"""Some plays of the bench: who takes what by the rota, against the plain rule."""

import pytest

from tests.bench.assignment import by_rota, by_rule, compared, play, worlds

WORLDS = {world.name: world for world in worlds()}


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("ten hands, few squares", 0.8),
        ("panels at home", 0.95),
        ("one piece by post", 1.001),
    ],
)
def test_the_rota_is_sooner_or_as_soon(name: str, most: float) -> None:
    found = compared(WORLDS[name], plays=4)
    assert found.ours <= found.rule * most


def test_a_play_is_the_same_again_and_every_square_is_finished() -> None:
    world = WORLDS["ten hands, few squares"]
    for policy in (by_rota, by_rule):
        assert play(world, policy, 7) == play(world, policy, 7) < 100
