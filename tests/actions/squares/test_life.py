"""Random lives of a blanket against a model of plain sets, which knows nothing of our core."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from zoneinfo import ZoneInfo

import pytest
from django.db import transaction
from django.utils.timezone import localdate
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from accounts.models import Member
from drives.actions.drives.blankets import change_layout
from drives.actions.squares import claims
from drives.actions.squares.finishing import Finished
from drives.audit import audit
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.places import Place
from drives.models import Claim
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk, new_blanket, places, seams
from tests.geometry import fabrics, supports

LIMIT, GRACE = 2, 7 * DAY
CLOCK = ZoneInfo("Europe/London")  # the circle's

LAYOUTS = [
    Layout(3, 3, 20),
    Layout(3, 3, 20, missing=frozenset(places("A1 C2")), seams=frozenset({Seam(*places("B1 C1"))})),
    Layout(4, 3, 20, large=frozenset({Large(Place.parse("B2"), 2)})),
    Layout(2, 2, 20, seams=frozenset({Seam(*places("A1 B1"))})),
    Layout(2, 4, 20, seams=seams("A1-B1 A2-B2 A3-B3 A4-B4")),
]

anywhere = st.integers(0, 99)  # a square, counted round and round
knitters = st.sampled_from(["vera", "will", "paul"])
people = st.sampled_from(["vera", "will", "cora"])


class Life(RuleBasedStateMachine):
    """``held``: who has a square and until when. ``finished``: who knitted it."""

    members: dict[str, Member]

    @initialize(layout=st.sampled_from(LAYOUTS))
    def plan(self, layout: Layout) -> None:
        self.undone = transaction.atomic()
        self.undone.__enter__()
        self.layout, self.stands_on = layout, supports(layout)
        self.desk = Desk(new_blanket(self.members["olga"], layout, claim_limit=LIMIT))
        self.finished: dict[Place, str] = {}
        self.held: dict[Place, tuple[str, date]] = {}  # by whom, and until which day
        self.now = NOW
        self.events = 0

    def teardown(self) -> None:
        if hasattr(self, "undone"):
            assert list(audit()) == []
            transaction.set_rollback(True)
            self.undone.__exit__(None, None, None)

    def at(self, index: int) -> Place:
        squares = sorted(self.stands_on)
        return squares[index % len(squares)]

    def waits_for(self, square: Place) -> list[str]:
        return [str(each) for each in sorted(self.stands_on[square]) if each not in self.finished]

    def begun_on(self, square: Place) -> set[Place]:
        begun = self.finished.keys() | self.held.keys()
        return {above for above in begun if square in self.stands_on[above]}

    def expect(self, refusal: str | None, act: Callable[[], object]) -> list[str]:
        """Done with one event, or refused by this code; answers the places that are named."""
        try:
            act()
        except Refused as refused:
            assert refused.code == refusal  # noqa: PT017
            named = [value for value in refused.facts.values() if isinstance(value, list)]
            return named[0] if named else []
        assert refusal is None
        self.events += 1
        return []

    @rule(index=anywhere, name=knitters)
    def claim(self, index: int, name: str) -> None:
        square, member = self.at(index), self.members[name]

        def act() -> Claim:
            return self.desk.claim(str(square), member, at=self.now)

        if square in self.held and self.held[square][0] == name:
            due = act().due_at  # theirs already: nothing changes
            assert localdate(due, CLOCK) == self.held[square][1]
        elif [holder for holder, _due in self.held.values()].count(name) >= LIMIT:
            self.expect("too-many-claims", act)
        elif square in self.finished:
            self.expect("already-finished", act)
        elif square in self.held:
            self.expect("already-taken", act)
        elif self.waits_for(square):
            assert self.expect("not-ready", act) == self.waits_for(square)
        else:
            self.expect(None, act)
            self.held[square] = (name, self.now.date() + 14 * DAY)

    @rule(index=anywhere, name=people)
    def finish(self, index: int, name: str) -> None:
        square, member = self.at(index), self.members[name]

        def act() -> Finished:
            return self.desk.finish(str(square), member, at=self.now)

        if square in self.finished:
            if name in (self.finished[square], "cora"):
                assert act().ready == ()  # done already: nothing changes
            else:
                self.expect("already-finished", act)
        elif self.may_end(square, name, act):
            self.finished[square] = self.held.pop(square)[0]

    @rule(index=anywhere, name=people)
    def give_back(self, index: int, name: str) -> None:
        square, member = self.at(index), self.members[name]
        if self.may_end(
            square, name, lambda: self.desk.give_back(str(square), member, at=self.now)
        ):
            del self.held[square]

    def may_end(self, square: Place, name: str, act: Callable[[], object]) -> bool:
        if square not in self.held:
            self.expect("not-taken", act)
        elif name not in (self.held[square][0], "cora"):
            self.expect("not-yours", act)
        else:
            self.expect(None, act)
            return True
        return False

    @rule(choices=st.lists(anywhere, min_size=1, max_size=8))
    def knit_what_is_ready(self, choices: list[int]) -> None:
        """Lives get further with it: most squares are not ready at most times."""
        cora = self.members["cora"]
        for index in choices:
            open_squares = self.stands_on.keys() - self.finished.keys() - self.held.keys()
            ready = sorted(square for square in open_squares if not self.waits_for(square))
            if not ready:
                break
            square = ready[index % len(ready)]
            self.expect(None, partial(self.desk.claim, str(square), cora, at=self.now))
            self.expect(None, partial(self.desk.finish, str(square), cora, at=self.now))
            self.finished[square] = "cora"

    @rule(index=anywhere)
    def rip_back(self, index: int) -> None:
        square, above, ahead = self.at(index), set[Place](), [self.at(index)]
        while ahead:
            more = self.begun_on(ahead.pop()) - above
            ahead += more
            above |= more

        def act() -> object:
            return self.desk.rip_back(str(square), self.members["cora"], at=self.now)

        if square not in self.finished:
            self.expect("not-finished", act)
        elif above:
            named = places(" ".join(self.expect("others-stand-on-it", act)))
            assert set(named) == above
            for position, first in enumerate(named):
                assert not self.begun_on(first) & set(named[position:])
        else:
            self.expect(None, act)
            del self.finished[square]

    @rule(index=anywhere)
    def rip_back_what_carries_nothing(self, index: int) -> None:
        """As above: most squares carry others."""
        tops = sorted(square for square in self.finished if not self.begun_on(square))
        if tops:
            top = tops[index % len(tops)]
            self.expect(None, lambda: self.desk.rip_back(str(top), self.members["cora"]))
            del self.finished[top]

    @rule(index=anywhere, days=st.integers(1, 20))
    def extend(self, index: int, days: int) -> None:
        square = self.at(index)

        def act() -> Claim:
            return self.desk.extend(str(square), self.members["cora"], days, at=self.now)

        if square not in self.held:
            self.expect("not-taken", act)
        else:
            self.expect(None, act)
            name, due = self.held[square]
            self.held[square] = (name, max(due, self.now.date()) + days * DAY)

    @rule(days=st.integers(1, 12))
    def time_goes_by(self, days: int) -> None:
        """Whatever is too late lapses."""
        self.now += days * DAY
        for claim in Claim.objects.open().select_related("square__blanket__drive__circle"):
            too_late = self.held[claim.square.place][1] + GRACE < self.now.date()
            assert claims.lapse_claim(claim=claim, now=self.now) == too_late
            if too_late:
                del self.held[claim.square.place]
                self.events += 1

    @rule(index=anywhere)
    def take_a_square_out(self, index: int) -> None:
        square = self.at(index)
        units = {square}.union(*(e.units() for e in self.layout.large if e.at == square))
        layout = replace(
            self.layout,
            missing=self.layout.missing | units,
            large=frozenset(large for large in self.layout.large if large.at != square),
        )
        begun = {square} & (self.finished.keys() | self.held.keys())
        if len(self.stands_on) > 1:
            self.change(layout, disturbed=begun | self.begun_on(square))

    @rule(index=anywhere)
    def fill_a_missing_place(self, index: int) -> None:
        if self.layout.missing:
            missing = sorted(self.layout.missing)
            place = missing[index % len(missing)]
            layout = replace(self.layout, missing=self.layout.missing - {place})
            onto = supports(layout)
            begun = self.finished.keys() | self.held.keys()
            self.change(layout, disturbed={above for above in begun if place in onto[above]})

    def change(self, layout: Layout, disturbed: set[Place]) -> None:
        def act() -> object:
            blanket = self.desk.square(str(self.at(0))).blanket
            return change_layout(
                blanket=blanket, by=self.members["olga"], layout=layout, now=self.now
            )

        named = self.expect("squares-begun" if disturbed else None, act)
        assert named == [str(place) for place in sorted(disturbed)]
        if not disturbed:
            self.layout, self.stands_on = layout, supports(layout)

    @invariant()
    def rows_agree_with_the_model(self) -> None:
        squares = {square.place: square for square in self.desk.blanket.squares.all()}
        assert squares.keys() == self.stands_on.keys()
        for place, square in squares.items():
            assert square.unmet == len(self.waits_for(place))
        assert {place for place, square in squares.items() if square.state == "finished"} == (
            self.finished.keys()
        )
        assert {place for place, square in squares.items() if square.state == "taken"} == (
            self.held.keys()
        )

    @invariant()
    def pieces_are_the_fabrics(self) -> None:
        live = {
            name: frozenset(places(" ".join(held))) for name, held in self.desk.pieces().items()
        }
        assert set(live.values()) == fabrics(self.stands_on, self.finished)

    @invariant()
    def every_change_is_one_event(self) -> None:
        assert len(self.desk.events()) == self.events


@pytest.mark.django_db
def test_lives(cast: Cast, will: Member) -> None:
    members = {"olga": cast.olga, "cora": cast.cora, "vera": cast.vera, "paul": cast.paul}

    class HereAndNow(Life):
        pass

    HereAndNow.members = members | {"will": will}
    run_state_machine_as_test(
        HereAndNow,
        settings=settings(
            max_examples=10,
            stateful_step_count=25,
            deadline=None,
            phases=[Phase.generate],  # to shrink a life takes minutes
            suppress_health_check=list(HealthCheck),
        ),
    )
