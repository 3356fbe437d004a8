"""Weeks of knitting in a moment: the real actions, with the dates of the days gone by."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta

from accounts.models import Member
from drives.actions.squares import claims, finishing
from drives.craft.places import Place
from drives.models import Blanket, Claim, Mode, Square
from drives.readings.board import board_of
from shared.basics.refusals import Refused

from .passing import pass_pieces

DAY = timedelta(days=1)


@dataclass(frozen=True)
class DemoKnitter:
    """Needs ``days`` for one square and has up to ``hands`` of them in hand at once.

    What they take on ``pauses_at`` or later stays in their hands: it will be late. From
    ``rests_at`` on they take nothing new.
    """

    member: Member
    days: int
    hands: int = 1
    pauses_at: datetime | None = None
    rests_at: datetime | None = None

    def is_done_with(self, claim: Claim, now: datetime) -> bool:
        paused = self.pauses_at is not None and claim.taken_at >= self.pauses_at
        return not paused and now - claim.taken_at >= self.days * DAY


@dataclass(frozen=True)
class DemoTable:
    """A blanket and those who work on it; ``coordinator`` acts for those on paper."""

    blanket: Blanket
    coordinator: Member
    knitters: Sequence[DemoKnitter]

    def knit(self, since: datetime, until: datetime) -> None:
        """Day by day everybody finishes what is done and takes the best squares on offer."""
        day = since
        while day <= until:
            in_hand = self._in_hand()
            moment = day - timedelta(hours=2)
            for knitter in self.knitters:
                held = [claim for claim in in_hand if claim.member_id == knitter.member.pk]
                self._one_day(knitter, held, moment)
                moment += timedelta(minutes=7)
            day += DAY

    def square(self, place: Place) -> Square:
        square = self.blanket.squares.at(place).get()
        square.blanket = self.blanket
        return square

    def held_by(self, member: Member) -> list[Square]:
        held = [claim for claim in self._in_hand() if claim.member_id == member.pk]
        return [self.square(claim.square.place) for claim in held]

    def _in_hand(self) -> list[Claim]:
        held = Claim.objects.open().filter(square__blanket=self.blanket)
        return list(held.select_related("square"))

    def _one_day(self, knitter: DemoKnitter, held: Sequence[Claim], now: datetime) -> None:
        member = knitter.member
        by = self.coordinator if member.is_paper else member
        done = [claim for claim in held if knitter.is_done_with(claim, now)]
        for claim in done:
            finishing.finish_square(square=self.square(claim.square.place), by=by, now=now)
        if self.blanket.drive.mode == Mode.TRAVELLING:
            pass_pieces(self.blanket, self.coordinator, now)
        rests = knitter.rests_at is not None and now >= knitter.rests_at
        free = 0 if rests else knitter.hands - len(held) + len(done)
        if free and self.blanket.squares.ready().exists():
            offers = board_of(self.blanket).offers
            # Who will be late takes what fewest others wait for.
            for offer in offers[-free:] if knitter.pauses_at else offers[:free]:
                with suppress(Refused):  # its piece is elsewhere, and they are in line for it
                    claims.claim_square(
                        square=self.square(offer.place), member=member, by=by, now=now
                    )
