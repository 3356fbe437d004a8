"""What the board shows of a blanket as it stands."""

import json
from datetime import datetime

from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.timezone import localdate
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Member, Role
from drives.craft.places import Place
from drives.craft.words import short_line
from drives.drawing import describe, legend, map_svg
from drives.models import Blanket, Claim
from drives.models.board import Board, board
from drives.pages.svg import drawn
from drives.pages.words import reasons


def facts(blanket: Blanket, me: Member, now: datetime) -> dict[str, object]:
    """Everything on the board that changes by itself."""
    shown = board(blanket)
    claims = sorted(shown.claims.values(), key=lambda claim: claim.due_at)
    return {
        "blanket": blanket,
        "me": me,
        "looks_after": may(me, Role.COORDINATOR),
        "now": now,
        "total": len(shown.plan.places),
        "finished": len(shown.finished),
        "percent": shown.percent,
        "begun": bool(shown.finished or shown.taken),
        "map": picture(shown, me, now),
        "signs": signs(shown),
        "ready": [
            {
                "place": offer.place,
                "line": short_line(shown.plan.foundation(offer.place)),
                "colour": shown.colours.get(offer.place, ""),
                "reasons": reasons(offer),
            }
            for offer in shown.offers
        ],
        "claims": [(claim, claim.late(now)) for claim in claims],
        "late": sum(claim.late(now) for claim in claims),
        # With this header set by hand the browser hands a 304 on to htmx, which then swaps nothing.
        "headers": json.dumps({"If-None-Match": tag(blanket, me, now)}),
    }


def tag(blanket: Blanket, me: Member, now: datetime) -> str:
    """An ETag of the board as ``me`` sees it: time alone changes only what is late."""
    late = Claim.objects.overdue(now).filter(square__blanket=blanket).count()
    roles = "".join(sorted(role[0] for role in me.roles))
    parts = (blanket.revision(), late, localdate(now), me.pk, roles, get_language())
    return f'"{"-".join(map(str, parts))}"'


def picture(shown: Board, me: Member, now: datetime) -> SafeString:
    """The map; each square is a link to its card."""
    card = reverse("drives:square", args=[shown.blanket.pk, "A1"]).removesuffix("A1/")
    late = frozenset(claim.square.place for claim in shown.late(now))
    mine = frozenset(place for place, claim in shown.claims.items() if claim.member_id == me.pk)

    def label(place: Place) -> str:
        told = describe(shown.plan, place, shown.state_of[place])
        if place in shown.claims:
            told += ", " + _("with %(name)s") % {"name": shown.claims[place].member.name}
        return f"{told}, {_('late')}" if place in late else told

    svg = map_svg(
        shown.plan,
        shown.state_of,
        title=_("Map of %(blanket)s") % {"blanket": shown.blanket.name},
        link=lambda place: f"{card}{place}/",
        label=label,
        late=late,
        mine=mine,
        colours=shown.colours,
    )
    return drawn(svg)


def signs(shown: Board) -> list[tuple[str, SafeString]]:
    """The legend: the words and the picture of each sign that this map can have."""
    layout = shown.plan.layout
    keys = ["waiting", "ready", "taken", "mine", "late", "finished"]
    keys += ["seam"] * bool(layout.seams) + ["missing"] * bool(layout.missing)
    return [(sign.words, drawn(sign.svg)) for sign in legend(keys)]
