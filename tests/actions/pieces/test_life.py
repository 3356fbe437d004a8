"""Random lives of travelling pieces against what a member could keep in a notebook."""

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

from accounts.models import Member
from drives.audit import audit
from drives.craft.layout.layout import Layout
from drives.models import HandOver, Turn
from shared.basics.refusals import NotedRefusal, Refused
from tests.cast import Cast
from tests.desk import Desk, new_blanket, seams

LAYOUTS = [
    Layout(3, 3, 20),
    Layout(3, 3, 20, seams=seams("A1-B1 B1-C1")),  # three pieces, joined row by row
    Layout(2, 3, 20, seams=seams("A1-B1 A2-B2 A3-B3")),  # two panels
]
PEOPLE = ["vera", "will", "paul", "olga"]

# What happens, the more often the more often it stands here.
STEPS = [
    *("knit", "knit", "knit", "claim", "claim", "claim", "claim", "finish", "finish", "give_back"),
    *("arrange", "send", "receive", "receive", "cancel", "serve_the_first", "serve_the_first"),
    *("the_first_gives_up", "rip_back", "lose"),
]


class Passing(RuleBasedStateMachine):
    """What each step should bring is told by what was to be seen before it."""

    members: dict[str, Member]

    @initialize(layout=st.sampled_from(LAYOUTS))
    def plan(self, layout: Layout) -> None:
        self.undone = transaction.atomic()
        self.undone.__enter__()
        made = new_blanket(self.members["olga"], layout, mode="travelling", claim_limit=3)
        self.desk = Desk(made)
        self.stands_on = made.plan().stands_on

    def teardown(self) -> None:
        if hasattr(self, "undone"):
            assert list(audit()) == []
            transaction.set_rollback(True)
            self.undone.__exit__(None, None, None)

    @rule(step=st.sampled_from(STEPS), index=st.integers(0, 99), name=st.sampled_from(PEOPLE))
    def step(self, step: str, index: int, name: str) -> None:
        """``index`` picks one of what there is, counted round and round; ``name`` who does it.

        One rule for all: where each has its own, a run leaves some of them out, and gets nowhere.
        """
        getattr(self, step)(index, name)

    def pieces(self) -> list[str]:
        return sorted(self.desk.holders())

    def under(self, square: str) -> set[str]:
        (place,) = [place for place in self.stands_on if str(place) == square]
        supports = {str(support) for support in self.stands_on[place]}
        return {name for name, held in self.desk.pieces().items() if held & supports}

    def claim(self, index: int, name: str) -> None:
        """With all its pieces in hand the square is theirs; else they are in line for the rest."""
        ready = sorted(map(str, self.desk.blanket.squares.ready()))
        if not ready:
            return
        square, member = ready[index % len(ready)], self.members[name]
        before = {piece: self.desk.queue(piece) for piece in self.pieces()}
        holders = self.desk.holders()
        lacking = {piece for piece in self.under(square) if holders[piece] != member.name}
        try:
            self.desk.claim(square, member)
        except NotedRefusal:
            assert lacking
            for piece, line in before.items():
                joins = piece in lacking and member.name not in line
                assert self.desk.queue(piece) == line + [member.name] * joins
            return
        except Refused as refused:
            assert refused.code in ("too-many-claims", "piece-on-its-way")  # noqa: PT017
            return
        assert not lacking

    def knit(self, index: int, name: str) -> None:
        """Who has the pieces under a square goes on with it."""
        at_hand = [
            square
            for square in sorted(map(str, self.desk.blanket.squares.ready()))
            if len(self.holders(square)) <= 1 and not self.on_its_way() & self.under(square)
        ]
        if at_hand:
            square = at_hand[index % len(at_hand)]
            name = next(iter(self.holders(square)), name.title())
            knitter = self.members[name.lower()]
            self.attempt(lambda: self.desk.knit(square, knitter), {"too-many-claims"})

    def finish(self, index: int, _name: str) -> None:
        taken = sorted(map(str, self.desk.blanket.squares.filter(state="taken")))
        if taken:
            square = taken[index % len(taken)]
            waiting = {member for piece in self.under(square) for member in self.desk.queue(piece)}
            piece = self.desk.finish(square, self.members["cora"]).square.piece
            assert piece is not None
            assert piece.holder is not None
            assert set(self.desk.queue(piece.name)) == waiting - {piece.holder.name}

    def give_back(self, index: int, _name: str) -> None:
        taken = sorted(map(str, self.desk.blanket.squares.filter(state="taken")))
        if taken:
            self.desk.give_back(taken[index % len(taken)], self.members["cora"])

    def arrange(self, index: int, name: str) -> None:
        if pieces := self.pieces():
            piece = pieces[index % len(pieces)]
            self.attempt(
                lambda: self.desk.arrange(piece, self.members[name], by=self.members["cora"]),
                {"piece-is-theirs", "hand-over-open"},
            )

    def serve_the_first(self, index: int, _name: str) -> None:
        """Whoever has a piece and nothing on the needles can always pass it on."""
        waited_for = [piece for piece in self.pieces() if self.desk.queue(piece)]
        moving = set(HandOver.objects.open().values_list("piece__name", flat=True))
        free = [piece for piece in waited_for if piece not in moving | self.in_work()]
        if free:
            piece = free[index % len(free)]
            first, *rest = self.desk.queue(piece)
            cora = self.members["cora"]
            self.desk.arrange(piece, self.members[first.lower()], by=cora)
            self.desk.receive(piece, cora)
            assert (self.desk.holders()[piece], self.desk.queue(piece)) == (first, rest)

    def send(self, index: int, _name: str) -> None:
        self.go_on(index, self.desk.send, {"piece-in-work"})

    def receive(self, index: int, _name: str) -> None:
        self.go_on(index, self.desk.receive, {"piece-in-work"})

    def cancel(self, index: int, _name: str) -> None:
        self.go_on(index, self.desk.cancel, set())

    def go_on(self, index: int, act: Callable[..., object], in_work: set[str]) -> None:
        moving = sorted(HandOver.objects.open().values_list("piece__name", flat=True))
        if moving:
            piece = moving[index % len(moving)]
            refusals = in_work if piece in self.in_work() else set()
            self.attempt(lambda: act(piece, self.members["cora"]), refusals)

    def the_first_gives_up(self, index: int, _name: str) -> None:
        """The line moves on, and nothing stays promised to who gave up."""
        waited_for = [piece for piece in self.pieces() if self.desk.queue(piece)]
        if waited_for:
            piece = waited_for[index % len(waited_for)]
            first, *rest = self.desk.queue(piece)
            assert self.desk.leave_queue(piece, self.members[first.lower()])
            assert self.desk.queue(piece) == rest
            promised = HandOver.objects.open().filter(piece__name=piece, sent_at=None)
            assert first not in [hand_over.receiver.name for hand_over in promised]

    def rip_back(self, index: int, _name: str) -> None:
        finished = sorted(map(str, self.desk.blanket.squares.filter(state="finished")))
        if finished:
            square = finished[index % len(finished)]
            self.attempt(
                lambda: self.desk.rip_back(square, self.members["cora"]), {"others-stand-on-it"}
            )

    def lose(self, index: int, _name: str) -> None:
        """Seldom, or a life would get nowhere."""
        pieces = self.pieces()
        if len(pieces) > 1 and index % 3 == 0:
            gone = self.desk.pieces()[pieces[-1]]
            assert set(self.desk.lose(pieces[-1], self.members["cora"])) == gone

    def holders(self, square: str) -> set[str]:
        """Who has the pieces under the square."""
        holders = self.desk.holders()
        return {holders[piece] for piece in self.under(square)}

    def on_its_way(self) -> set[str]:
        return set(HandOver.objects.sent().values_list("piece__name", flat=True))

    def in_work(self) -> set[str]:
        taken = map(str, self.desk.blanket.squares.filter(state="taken"))
        return {piece for square in taken for piece in self.under(square)}

    def attempt(self, act: Callable[[], object], refusals: set[str]) -> None:
        try:
            act()
        except Refused as refused:
            assert refused.code in refusals  # noqa: PT017

    @invariant()
    def nobody_waits_for_themselves(self) -> None:
        holders = self.desk.holders()
        for piece, holder in holders.items():
            assert holder
            line = self.desk.queue(piece)
            assert holder not in line
            assert len(line) == len(set(line))

    @invariant()
    def who_works_on_a_piece_has_it(self) -> None:
        holders = self.desk.holders()
        for square in self.desk.blanket.squares.filter(state="taken"):
            knitter = square.claims.get(ended_at=None).member.name
            assert {holders[piece] for piece in self.under(str(square))} <= {knitter}

    @invariant()
    def only_live_pieces_move_and_are_waited_for(self) -> None:
        for hand_over in HandOver.objects.open().select_related("piece"):
            assert hand_over.piece.ended_at is None
            assert hand_over.giver_id == hand_over.piece.holder_id != hand_over.receiver_id
        moving = list(HandOver.objects.open().values_list("piece", flat=True))
        assert len(moving) == len(set(moving))
        assert not Turn.objects.waiting().exclude(piece__ended_at=None).exists()


@pytest.mark.django_db
def test_lives_of_travelling_pieces(cast: Cast, will: Member) -> None:
    members = {"olga": cast.olga, "cora": cast.cora, "vera": cast.vera, "paul": cast.paul}

    class HereAndNow(Passing):
        pass

    HereAndNow.members = members | {"will": will}
    run_state_machine_as_test(
        HereAndNow,
        settings=settings(
            max_examples=7,
            stateful_step_count=50,
            deadline=None,
            phases=[Phase.generate],  # to shrink a life takes minutes
            suppress_health_check=list(HealthCheck),
        ),
    )
