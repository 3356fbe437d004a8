"""Random lives of a store against a model of plain numbers."""

from collections.abc import Callable

import pytest
from django.db import transaction
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from accounts.models import Event, Member
from drives.audit import audit
from drives.models import Holding, Move, Yarn
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.store import Shelf, new_yarn

yarns = st.integers(0, 1)
grams = st.integers(1, 60)
people = st.sampled_from(["vera", "paul"])
somebody_or_store = st.sampled_from(["", "vera", "paul"])


class Life(RuleBasedStateMachine):
    """``has``: the grams of each yarn with somebody; with nobody ("") those in the store."""

    members: dict[str, Member]

    @initialize(first=st.integers(0, 100), second=st.integers(0, 100))
    def open_the_store(self, first: int, second: int) -> None:
        self.undone = transaction.atomic()
        self.undone.__enter__()
        cora = self.members["cora"]
        lots = [("1", first), ("2", second)]
        self.shelves = [Shelf(new_yarn(cora, each, dye_lot=lot), cora) for lot, each in lots]
        self.has = {(0, ""): first, (1, ""): second}
        self.lines = min(first, 1) + min(second, 1)
        self.events = 2

    def teardown(self) -> None:
        if hasattr(self, "undone"):
            assert list(audit()) == []
            transaction.set_rollback(True)
            self.undone.__exit__(None, None, None)

    def there(self, yarn: int, name: str) -> int:
        return self.has.get((yarn, name), 0)

    def move(self, act: Callable[[], object], yarn: int, changes: dict[str, int]) -> None:
        """``changes`` by who has it; all of them happen, or none."""
        wanted = {(yarn, name): more for name, more in changes.items()}
        enough = all(self.there(*key) + more >= 0 for key, more in wanted.items())
        try:
            act()
        except Refused as refused:
            short = min(self.there(*key) for key, more in wanted.items() if more < 0)
            told = (refused.code, refused.facts)
            assert told == ("not-so-much-yarn", {"grams": short})
            assert not enough
            return
        assert enough
        for key, more in wanted.items():
            self.has[key] = self.there(*key) + more
        self.lines += 1
        self.events += 1

    @rule(yarn=yarns, grams=grams)
    def receive(self, yarn: int, grams: int) -> None:
        self.move(lambda: self.shelves[yarn].receive(grams), yarn, {"": grams})

    @rule(yarn=yarns, name=people, grams=grams)
    def hand_out(self, yarn: int, name: str, grams: int) -> None:
        shelf, member = self.shelves[yarn], self.members[name]
        self.move(lambda: shelf.hand_out(member, grams), yarn, {"": -grams, name: grams})

    @rule(yarn=yarns, name=people, grams=grams)
    def take_back(self, yarn: int, name: str, grams: int) -> None:
        shelf, member = self.shelves[yarn], self.members[name]
        self.move(lambda: shelf.take_back(member, grams), yarn, {name: -grams, "": grams})

    @rule(yarn=yarns, name=somebody_or_store, grams=grams)
    def knit_up(self, yarn: int, name: str, grams: int) -> None:
        shelf, member = self.shelves[yarn], self.members.get(name)
        self.move(lambda: shelf.knit_up(member, grams), yarn, {name: -grams})

    @rule(yarn=yarns, name=somebody_or_store, grams=st.integers(0, 60))
    def count(self, yarn: int, name: str, grams: int) -> None:
        shelf, member = self.shelves[yarn], self.members.get(name)
        more = grams - self.there(yarn, name)
        if more:
            self.move(lambda: shelf.count(member, grams), yarn, {name: more})
        else:
            assert shelf.count(member, grams) is None

    @invariant()
    def rows_agree_with_the_model(self) -> None:
        number = {shelf.yarn.pk: yarn for yarn, shelf in enumerate(self.shelves)}
        called = {member.pk: name for name, member in self.members.items()}
        rows = {(number[yarn.pk], ""): yarn.grams for yarn in Yarn.objects.filter(pk__in=number)}
        for held in Holding.objects.filter(yarn__in=number):
            rows[number[held.yarn_id], called[held.member_id]] = held.grams
        assert {key: each for key, each in rows.items() if each} == {
            key: each for key, each in self.has.items() if each
        }

    @invariant()
    def every_change_is_a_line_and_an_event(self) -> None:
        lines = Move.objects.filter(yarn__in=[shelf.yarn for shelf in self.shelves])
        assert lines.count() == self.lines
        assert Event.objects.filter(verb__startswith="yarn").count() == self.events


@pytest.mark.django_db
def test_lives(cast: Cast) -> None:
    class HereAndNow(Life):
        pass

    HereAndNow.members = {"cora": cast.cora, "vera": cast.vera, "paul": cast.paul}
    run_state_machine_as_test(
        HereAndNow,
        settings=settings(
            max_examples=10,
            stateful_step_count=20,
            deadline=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        ),
    )
