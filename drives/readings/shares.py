"""Who could get which panel: by what they measured, and by their paces."""

from collections.abc import Iterable

from drives.craft.forecast.situation import Situation
from drives.craft.gauge.sharing import Able, Panel, shares
from drives.craft.layout.plan import Plan
from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .board import Board
from .foretold import Shared
from .gauges import knits
from .outlook import Outlook


class Sharing:
    """How the panels of ``board`` are shared out among the people of a ``situation``; two queries.

    Whom the outlook does not know is as quick as the situation supposes, and knits like anybody.
    """

    def __init__(self, board: Board, known: Outlook, situation: Situation) -> None:
        self._situation = situation
        gauges = {each.member.pk: each.compared.measured for each in knits(board.blanket)}
        self._names: list[str | None] = []
        self._people: list[Able] = []
        for knitter in situation.knitters:
            member = None if knitter.person is None else known.members[knitter.person]
            self._names.append(member.name if member else None)
            gauge = gauges.get(member.pk) if member else None
            self._people.append(Able(knitter.pace.median, gauge))
        finished = board.blanket.squares.exclude(knitter=None)
        rows = finished.values_list("column", "row", "knitter_id")
        begun = {Place(column, row): member for column, row, member in rows}
        begun |= {place: claim.member_id for place, claim in board.claims.items()}
        self._gauges = {
            place: gauges[member] for place, member in begun.items() if member in gauges
        }

    def of(self, plan: Plan) -> list[Shared] | None:
        """Of each panel that is not done; None where nobody knits like those who began one."""
        finished = self._situation.finished
        pieces = sorted(
            (piece for piece in plan.pieces() if not finished >= piece),
            key=lambda piece: min(piece),
        )
        panels = [
            Panel(
                self._work(plan, piece - finished),
                tuple(sorted({self._gauges[place] for place in piece & self._gauges.keys()})),
            )
            for piece in pieces
        ]
        found = shares(panels, self._people, self._situation.mode.at_once)
        if found is None:
            return None
        return [
            {
                "first": str(min(piece)),
                "last": str(max(piece)),
                "squares": len(piece - finished),
                "members": sorted(name for who in share.people if (name := self._names[who])),
                "others": sum(self._names[who] is None for who in share.people),
                "days": round(share.days, 1),
            }
            for piece, share in zip(pieces, found, strict=True)
        ]

    def _work(self, plan: Plan, squares: Iterable[Place]) -> float:
        """In squares of one unit."""
        stitches, mitre = plan.layout.stitches, plan.layout.mitre
        one = worked(stitches, mitre)
        return sum(worked(stitches * plan.size[place], mitre) for place in squares) / one
