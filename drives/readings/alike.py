"""Members who knit alike, and the panels that they could take together."""

from collections.abc import Sequence
from typing import NamedTuple

from django.utils.translation import gettext as _

from accounts.models import Member
from drives.craft.gauge.alike import AlikeKnitters, alike_knitters
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.claim import Claim
from drives.words.gauge import knitters_alike

from .gauges import Knits, knits


class Panel(NamedTuple):
    """A panel's squares, and the members who began one of them."""

    squares: frozenset[Place]
    members: frozenset[int]

    def __str__(self) -> str:
        """From its bottom-left place to its top-right one."""
        return f"{min(self.squares)}–{max(self.squares)}"


class Group(NamedTuple):
    """Members who knit alike, and what follows (``line``).

    Of the panels those that they ``begun``, and the ``free`` ones, that nobody did.
    """

    alike: AlikeKnitters
    line: str
    names: list[str]
    begun: list[str]
    free: list[str]


def groups_alike(blanket: Blanket, known: Sequence[Knits]) -> list[Group]:
    """Two queries if the blanket is cut into panels, else none."""
    names = {each.member.pk: each.member.name for each in known}
    cut = open_panels(blanket)
    return [
        Group(
            each,
            knitters_alike(each),
            [names[member] for member in each.members],
            begun=[str(panel) for panel in cut if panel.members and _fits(panel, each)],
            free=[str(panel) for panel in cut if not panel.members],
        )
        for each in alike_knitters({each.member.pk: each.compared.measured for each in known})
    ]


def open_panels(blanket: Blanket) -> list[Panel]:
    """Those in which a square can still be begun; none where no seam cuts the blanket."""
    plan = blanket.plan()
    pieces = plan.pieces() if plan.layout.seams else []
    if len(pieces) < 2:
        return []
    knitted = blanket.squares.exclude(knitter=None).values_list("column", "row", "knitter_id")
    held = Claim.objects.open().filter(square__blanket=blanket)
    by = {
        Place(column, row): member
        for column, row, member in [
            *knitted,
            *held.values_list("square__column", "square__row", "member_id"),
        ]
    }
    return [
        Panel(piece, frozenset(by[place] for place in piece & by.keys()))
        for piece in pieces
        if not piece <= by.keys()
    ]


def with_likes(blanket: Blanket, me: Member) -> dict[Place, tuple[str, ...]]:
    """A reason to begin with a square: those who have begun its panel all knit like ``me``.

    Three queries where the blanket is cut into panels, else none.
    """
    cut = open_panels(blanket)
    known = {each.member.pk: each for each in knits(blanket)} if cut else {}
    if me.pk not in known:
        return {}
    likes = alike_knitters({pk: each.compared.measured for pk, each in known.items()})
    mine = next(group for group in likes if me.pk in group.members)
    reasons: dict[Place, tuple[str, ...]] = {}
    for panel in cut:
        others = panel.members - {me.pk}
        if others and _fits(panel, mine):
            names = ", ".join(sorted(known[pk].member.name for pk in others))
            reason = _("On its panel, and knitting as you do: %(names)s.") % {"names": names}
            reasons |= dict.fromkeys(panel.squares, (reason,))
    return reasons


def _fits(panel: Panel, group: AlikeKnitters) -> bool:
    return panel.members <= set(group.members)
