"""Who could get which panel: by what they measured, and by their paces."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Self

from accounts.models import Member
from drives.craft.forecast.situation import Situation
from drives.craft.gauge.sharing import Able, Panel, alike, shares
from drives.craft.layout.plan import Plan
from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .board import Board
from .foretold import Shared
from .gauges import knits
from .outlook import Outlook


class Sharing:
    """How panels are shared out among the people of a ``situation``.

    ``known``: who they are, by person. ``gauges``: by member, where it is known. ``begun``: which
    member has which square. Whom nobody knows is as quick as the situation supposes, and knits
    like anybody.
    """

    def __init__(
        self,
        known: Sequence[Member],
        situation: Situation,
        gauges: Mapping[int, float],
        begun: Mapping[Place, int],
    ) -> None:
        self._situation = situation
        self._names: list[str | None] = []
        self._people: list[Able] = []
        for knitter in situation.knitters:
            member = None if knitter.person is None else known[knitter.person]
            self._names.append(member.name if member else None)
            gauge = gauges.get(member.pk) if member else None
            self._people.append(Able(knitter.pace.median, gauge))
        self._number = {
            known[knitter.person].pk: number
            for number, knitter in enumerate(situation.knitters)
            if knitter.person is not None
        }
        self._begun = {place: who for place, who in begun.items() if who in self._number}
        self._gauges = {
            place: gauges[member] for place, member in begun.items() if member in gauges
        }

    @classmethod
    def on(cls, board: Board, known: Outlook, situation: Situation) -> Self:
        """By what was measured and begun of a blanket: two queries."""
        finished = board.blanket.squares.exclude(knitter=None)
        rows = finished.values_list("column", "row", "knitter_id")
        begun = {Place(column, row): member for column, row, member in rows}
        begun |= {place: claim.member_id for place, claim in board.claims.items()}
        gauges = {each.member.pk: each.compared.measured for each in knits(board.blanket)}
        return cls(known.members, situation, gauges, begun)

    def of(self, plan: Plan) -> list[Shared] | None:
        """Of each panel that is not done; None where nobody knits like those who began one."""
        pieces, panels = self._panels(plan)
        found = shares(panels, self._people, self._situation.mode.at_once)
        if found is None:
            return None
        return [
            {
                "first": str(min(piece)),
                "last": str(max(piece)),
                "squares": len(piece - self._situation.finished),
                "members": sorted(name for who in share.people if (name := self._names[who])),
                "others": sum(self._names[who] is None for who in share.people),
                "days": round(share.days, 1),
            }
            for piece, share in zip(pieces, found, strict=True)
        ]

    def strangers(self, plan: Plan) -> dict[Place, frozenset[int]]:
        """Of each square of a cut blanket: who knits too differently from others on its panel."""
        pieces, panels = self._panels(plan)
        everybody = frozenset(range(len(self._people)))
        if len(plan.pieces()) < 2 or len([each for each in self._people if each.gauge]) < 2:
            return {}
        found = alike(panels, self._people, self._situation.mode.at_once)
        return {
            place: everybody - may
            for piece, may in zip(pieces, found, strict=True)
            for place in piece
        }

    def _panels(self, plan: Plan) -> tuple[list[frozenset[Place]], list[Panel]]:
        """Those that are not done, by their squares and with what is left."""
        finished = self._situation.finished
        pieces = sorted(
            (piece for piece in plan.pieces() if not finished >= piece),
            key=lambda piece: min(piece),
        )
        panels = [
            Panel(
                self._work(plan, piece - finished),
                tuple(sorted({self._gauges[place] for place in piece & self._gauges.keys()})),
                frozenset(self._number[self._begun[place]] for place in piece & self._begun.keys()),
            )
            for piece in pieces
        ]
        return pieces, panels

    def _work(self, plan: Plan, squares: Iterable[Place]) -> float:
        """In squares of one unit."""
        stitches, mitre = plan.layout.stitches, plan.layout.mitre
        one = worked(stitches, mitre)
        return sum(worked(stitches * plan.size[place], mitre) for place in squares) / one
