"""What an action answers when something stands in the way, in a knitter's words."""

from collections.abc import Iterable, Sequence
from datetime import date

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Member
from drives import measures
from drives.craft.layout.states import Obstacle, Refusal
from drives.craft.places import Place
from drives.models import Claim, Piece, Square, StoredState, Yarn
from shared.basics.lists import listed
from shared.basics.refusals import NotedRefusal, Refused

MOST_SQUARES_NAMED = 8  # squares in one sentence


def place_names(places: Iterable[Place]) -> list[str]:
    return [str(place) for place in places]


def cannot_begin(place: Place, refusal: Refusal, claim: Claim | None) -> Refused:
    """The core's refusal of ``place`` as an answer; ``claim`` is the open one on it, if any."""
    facts = {"place": place, "supports": listed(refusal.waiting_for)}
    match refusal.obstacle:
        case Obstacle.FINISHED:
            text = _("%(place)s is finished already; choose a square that is ready.") % facts
            return Refused(refusal.obstacle, text)
        case Obstacle.TAKEN if claim is not None:
            facts |= {
                "name": claim.member.name,
                "date": date_format(localtime(claim.due_at), "MONTH_DAY_FORMAT"),
            }
            text = _(
                "%(place)s is taken by %(name)s until %(date)s; choose a square that is ready."
            )
            return Refused(refusal.obstacle, text % facts)
        case Obstacle.TAKEN:
            text = _("%(place)s is taken already; choose a square that is ready.") % facts
            return Refused(refusal.obstacle, text)
        case Obstacle.NOT_READY:
            text = _(
                "%(place)s cannot be begun yet: it joins onto %(supports)s, not finished so far."
            )
            return Refused(
                refusal.obstacle, text % facts, waiting_for=place_names(refusal.waiting_for)
            )


def just_changed(place: Place) -> Refused:
    text = _("%(place)s has changed this very moment; please try again.") % {"place": place}
    return Refused(Obstacle.NOT_READY, text, waiting_for=[])


def too_many_claims(name: str, limit: int) -> Refused:
    text = ngettext(
        "%(name)s has %(limit)d square in hand already; finish it or give it back first.",
        "%(name)s has %(limit)d squares in hand already; finish one or give one back first.",
        limit,
    )
    return Refused("too-many-claims", text % {"name": name, "limit": limit}, limit=limit)


def not_yours(place: Place, claim: Claim) -> Refused:
    text = _("%(place)s is in %(name)s’s hands; only they, or a coordinator for them, can do this.")
    return Refused("not-yours", text % {"place": place, "name": claim.member.name})


def not_taken(place: Place) -> Refused:
    return Refused(
        "not-taken", _("Nobody has %(place)s in hand; claim it first.") % {"place": place}
    )


def counted_elsewhere(place: Place, claim: Claim) -> Refused:
    text = ngettext(
        "%(rows)d row of %(place)s is counted by now, on another page. None was taken back.",
        "%(rows)d rows of %(place)s are counted by now, on another page. None was taken back.",
        claim.rows_done,
    )
    facts = {"rows": claim.rows_done, "place": place}
    return Refused("counted-elsewhere", text % facts)


def not_finished(place: Place) -> Refused:
    text = _("%(place)s is not finished, so there is nothing to rip back.") % {"place": place}
    return Refused("not-finished", text)


def not_finished_yet(place: Place) -> Refused:
    text = _("%(place)s is not finished yet; weigh it and measure it when it is.")
    return Refused("not-finished", text % {"place": place})


def not_your_knitting(square: Square) -> Refused:
    text = _("%(place)s was knitted by %(name)s; only they, or a coordinator, can do this.")
    name = square.knitter.name if square.knitter else ""
    return Refused("not-yours", text % {"place": square.place, "name": name})


def not_your_swatch(name: str) -> Refused:
    text = _("Only %(name)s, or a coordinator for them, can do this.") % {"name": name}
    return Refused("not-yours", text)


def not_your_yarn(yarn: Yarn) -> Refused:
    text = _("Only the person who has “%(yarn)s”, or a coordinator, can do this.") % {"yarn": yarn}
    return Refused("not-yours", text)


def not_so_much_yarn(yarn: Yarn, holder: Member | None, there: int, wanted: int) -> Refused:
    """Of it ``holder``, or else the store, has ``there`` grams."""
    units = yarn.circle.units
    facts = {
        "yarn": yarn,
        "name": holder.name if holder else "",
        "there": measures.balance_line(there, units),
        "wanted": measures.balance_line(wanted, units),
    }
    if holder:
        text = _("%(name)s has %(there)s of “%(yarn)s”, so %(wanted)s cannot leave their hands.")
    else:
        text = _("There are %(there)s of “%(yarn)s” in the store, so %(wanted)s cannot leave it.")
    return Refused("not-so-much-yarn", text % facts, grams=there)


def yarn_is_there(yarn: Yarn) -> Refused:
    text = _("“%(yarn)s” is in the store already; note there what more has come of it.")
    return Refused("yarn-is-there", text % {"yarn": yarn}, yarn=yarn.pk)


def others_stand_on_it(place: Place, above: Sequence[Place]) -> Refused:
    """``above``, topmost first, is told whole to programs; a sentence names the first few."""
    text = _(
        "%(place)s carries other squares. Rip back or give back first, in this order: %(above)s."
    )
    told = ", ".join(place_names(above[:MOST_SQUARES_NAMED]))
    if len(above) > MOST_SQUARES_NAMED:
        told = _("%(first)s … (%(count)d in all)") % {"first": told, "count": len(above)}
    return Refused(
        "others-stand-on-it", text % {"place": place, "above": told}, rip_first=place_names(above)
    )


def squares_begun(places: Sequence[Place]) -> Refused:
    text = _("The layout can change only where nothing is begun; this would change %(places)s.")
    return Refused("squares-begun", text % {"places": listed(places)}, places=place_names(places))


def piece_elsewhere(place: Place, piece: Piece, turn: int) -> Refused:
    """Somebody has the piece. ``turn``: the asker's place in the line for it, from 1."""
    holder = piece.holder
    name = holder.name if holder else ""
    facts = {"place": place, "piece": piece.name, "name": name, "turn": turn}
    if holder and holder.left_at is not None:
        text = _(
            "%(place)s belongs to the piece %(piece)s, which was last with %(name)s, who has left "
            "the circle. You are number %(turn)d in line for it; ask a coordinator where it is."
        )
    else:
        text = _(
            "%(place)s belongs to the piece %(piece)s, which is with %(name)s. "
            "You are number %(turn)d in line for it; arrange with them how you get it."
        )
    return NotedRefusal("piece-elsewhere", text % facts, piece=piece.name, holder=name, turn=turn)


def piece_full(piece: Piece, members: list[str]) -> Refused:
    text = ngettext(
        "%(names)s is at work on the piece %(piece)s, and there is no room for more.",
        "%(names)s are at work on the piece %(piece)s, and there is no room for more.",
        len(members),
    )
    facts = {"names": listed(members), "piece": piece.name}
    return Refused("piece-full", text % facts, piece=piece.name, members=members)


def on_its_way(piece: Piece) -> Refused:
    text = _("The piece %(piece)s is on its way from one to the other.") % {"piece": piece.name}
    return Refused("piece-on-its-way", text, piece=piece.name)


def piece_in_work(piece: Piece, members: list[str]) -> Refused:
    text = ngettext(
        "%(names)s has a square of the piece %(piece)s on the needles; "
        "finish it or give it back before the piece changes hands.",
        "%(names)s have squares of the piece %(piece)s on the needles; "
        "finish them or give them back before the piece changes hands.",
        len(members),
    )
    facts = {"names": listed(members), "piece": piece.name}
    return Refused("piece-in-work", text % facts, piece=piece.name, members=members)


def piece_is_no_more(piece: Piece) -> Refused:
    text = _("The piece %(piece)s is no more.") % {"piece": piece.name}
    return Refused("piece-is-no-more", text, piece=piece.name)


def piece_is_theirs(piece: Piece, name: str) -> Refused:
    text = _("%(name)s has the piece %(piece)s already.") % {"name": name, "piece": piece.name}
    return Refused("piece-is-theirs", text, piece=piece.name)


def not_your_piece(piece: Piece) -> Refused:
    text = _(
        "Only the person who has the piece %(piece)s, the one who gets it next, "
        "or a coordinator can do this."
    )
    return Refused("not-yours", text % {"piece": piece.name})


def hand_over_open(piece: Piece, name: str) -> Refused:
    text = _("The piece %(piece)s is promised to %(name)s; cancel that hand-over first.")
    return Refused("hand-over-open", text % {"piece": piece.name, "name": name}, to=name)


def hand_over_ended(piece: Piece) -> Refused:
    text = _("This hand-over of the piece %(piece)s is over.") % {"piece": piece.name}
    return Refused("hand-over-ended", text)


def no_travelling() -> Refused:
    text = _("In this drive the pieces stay with the circle, so there is nothing to hand over.")
    return Refused("no-travelling", text)


def too_many_notes() -> Refused:
    """It tells a stranger nothing: neither whose limit it is nor how far it is reached."""
    text = _("Enough messages came in by this for today. Please try once more tomorrow.")
    return Refused("too-many-notes", text)


def no_conflict() -> Refused:
    return Refused("no-conflict", _("This does not go against the rules any more."))


def no_rota() -> Refused:
    return Refused("rota-not-made", _("Nobody has asked for a rota of this blanket yet."))


def rota_is_newer() -> Refused:
    text = _("The rota was worked out anew in the meantime. Look at it again, then accept it.")
    return Refused("rota-is-newer", text)


def nothing_to_plan(square: Square) -> Refused:
    """Of a square that is begun."""
    facts = {"place": square.place}
    if square.state == StoredState.FINISHED:
        text = _("%(place)s is finished already, so there is nothing to plan.") % facts
        return Refused("already-finished", text)
    text = _("Somebody has taken %(place)s already, so there is nothing to plan.") % facts
    return Refused("already-taken", text)


def not_a_knitter(name: str) -> Refused:
    text = _("%(name)s is not among those who knit here.") % {"name": name}
    return Refused("not-a-knitter", text)


def plan_day_is_over(day: date) -> Refused:
    text = _("%(day)s is over; choose today or a later day.")
    return Refused("day-is-over", text % {"day": date_format(day, "MONTH_DAY_FORMAT")})


def member_is_away(name: str, day: date) -> Refused:
    text = _("%(name)s is away on %(day)s; choose another day or somebody else.")
    return Refused(
        "member-is-away", text % {"name": name, "day": date_format(day, "MONTH_DAY_FORMAT")}
    )
