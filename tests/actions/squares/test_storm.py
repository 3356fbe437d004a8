"""Many at once, on both databases: whatever happens in whatever order, every invariant holds."""

import random
from collections import Counter
from collections.abc import Callable
from threading import Barrier

import pytest
from django.db import connection

from accounts.actions import add_paper_member
from accounts.models import Member
from drives.audit import audit
from drives.models import Claim, StoredState
from drives.models.square import SquareQuerySet
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk
from tests.racing import Rival

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.parametrize(
        "database", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)]
    ),
]


@pytest.fixture(autouse=True)
def _on_that_database(database: str) -> None:
    if connection.vendor != database:
        pytest.skip(f"runs on {database}")


def crowd(cast: Cast, count: int) -> list[Member]:
    return [
        add_paper_member(by=cast.olga, name=f"Knitter {number}", reach="", hand="right", now=NOW)
        for number in range(count)
    ]


def all_at_once(acts: list[Callable[[], str]]) -> list[str]:
    """What each act says, when they are begun at the same moment by a thread each."""
    start = Barrier(len(acts))

    def wait_and(act: Callable[[], str]) -> str:
        start.wait()
        return act()

    rivals = [Rival(lambda act=act: wait_and(act)) for act in acts]  # type: ignore[misc]
    return [rival.result() for rival in rivals]


def said(act: Callable[[], object]) -> str:
    """``done`` or the code of the refusal; nothing else is an answer."""
    try:
        act()
    except Refused as refusal:
        return refusal.code
    return "done"


def test_of_many_who_want_one_square_one_gets_it(cast: Cast, plan: Plan) -> None:
    desk = plan()

    def attempt(member: Member) -> Callable[[], str]:
        return lambda: said(lambda: desk.claim("A1", member, by=cast.cora))

    answers = all_at_once([attempt(member) for member in crowd(cast, 32)])
    assert Counter(answers) == {"done": 1, "already-taken": 31}
    assert Claim.objects.count() == 1
    assert desk.verbs() == ["claimed"]
    assert list(audit()) == []


def test_one_member_in_many_places_stays_within_the_limit(cast: Cast, plan: Plan) -> None:
    desk = plan(8, 8, claim_limit=2)
    for diagonal in range(1, 8):
        for column in range(1, diagonal + 1):
            desk.knit(f"{'ABCDEFGH'[column - 1]}{diagonal + 1 - column}", cast.olga)

    def attempt(name: str) -> Callable[[], str]:
        return lambda: said(lambda: desk.claim(name, cast.vera))

    ready = [f"{letter}{8 - index}" for index, letter in enumerate("ABCDEFGH")]
    answers = all_at_once([attempt(name) for name in ready])
    assert Counter(answers) == {"done": 2, "too-many-claims": 6}
    assert list(audit()) == []


@pytest.mark.parametrize("seed", [1, 2])
def test_a_storm_leaves_everything_in_order(cast: Cast, plan: Plan, seed: int) -> None:
    desk = plan(5, 5, claim_limit=3)
    members = crowd(cast, 6)
    threads, acts = (16, 15) if connection.vendor == "postgresql" else (6, 15)

    def walk(number: int) -> Callable[[], str]:
        chance = random.Random(f"{seed} {number}")
        return lambda: " ".join(
            said(lambda: one_act(desk, cast, members, chance)) for _ in range(acts)
        )

    def inspect() -> str:
        return "; ".join(str(finding) for _ in range(3) for finding in audit())

    *walked, inspected = all_at_once([*(walk(n) for n in range(threads)), inspect])
    answers = Counter(" ".join(walked).split())
    assert answers.total() == threads * acts
    assert inspected == ""
    assert list(audit()) == []
    assert {"claimed", "finished"} <= set(desk.verbs())
    assert answers["done"] >= len(desk.verbs())


def one_act(desk: Desk, cast: Cast, members: list[Member], chance: random.Random) -> None:
    """Something at random, mostly on a square where it could succeed when one looked."""
    taken = desk.blanket.squares.filter(state=StoredState.TAKEN)
    finished = desk.blanket.squares.filter(state=StoredState.FINISHED)
    likely: dict[str, SquareQuerySet] = {
        "claim": desk.blanket.squares.ready(),
        "finish": taken,
        "give back": taken,
        "extend": taken,
        "rip back": finished,
    }
    act = chance.choices(list(likely), weights=[40, 32, 8, 8, 12])[0]
    squares = list(likely[act].order_by("pk")) or list(desk.blanket.squares.all())
    name = str(chance.choice(squares))
    match act:
        case "claim":
            desk.claim(name, chance.choice(members), by=cast.cora)
        case "finish":
            desk.finish(name, cast.cora)
        case "give back":
            desk.give_back(name, cast.cora)
        case "extend":
            desk.extend(name, cast.cora, days=1, at=NOW + DAY)
        case "rip back":
            desk.rip_back(name, cast.cora)
