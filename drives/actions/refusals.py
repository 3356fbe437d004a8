"""What an action answers when something stands in the way, in a knitter's words."""

from collections.abc import Iterable, Sequence

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.places import Place
from drives.craft.states import Obstacle, Refusal
from drives.models import Claim
from shared.refusals import Refused


def names(places: Iterable[Place]) -> list[str]:
    return [str(place) for place in places]


def listed(places: Sequence[Place]) -> str:
    """Places as a sentence lists them: ``A2, B1 and C1``."""
    words = names(places)
    if len(words) < 2:
        return "".join(words)
    return _("%(first)s and %(last)s") % {"first": ", ".join(words[:-1]), "last": words[-1]}


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
                "date": date_format(localtime(claim.due_at), "j F"),
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
            return Refused(refusal.obstacle, text % facts, waiting_for=names(refusal.waiting_for))


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


def not_finished(place: Place) -> Refused:
    text = _("%(place)s is not finished, so there is nothing to rip back.") % {"place": place}
    return Refused("not-finished", text)


def others_stand_on_it(place: Place, above: Sequence[Place]) -> Refused:
    text = _(
        "%(place)s carries other squares. Rip back or give back first, in this order: %(above)s."
    )
    facts = {"place": place, "above": ", ".join(names(above))}
    return Refused("others-stand-on-it", text % facts, rip_first=names(above))


def squares_begun(places: Sequence[Place]) -> Refused:
    text = _("The layout can change only where nothing is begun; this would change %(places)s.")
    return Refused("squares-begun", text % {"places": listed(places)}, places=names(places))


def has_left(name: str) -> Refused:
    return Refused("member-has-left", _("%(name)s is no longer in the circle.") % {"name": name})
