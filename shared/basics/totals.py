"""How much there may be of what one person can make without end (``settings.TOTALS``).

Limits say how quickly, totals how much. The sentences say what would help.
"""

from typing import Any

from django.conf import settings
from django.db.models import QuerySet
from django.utils.formats import number_format
from django.utils.translation import gettext_lazy

from shared.basics.refusals import Refused
from shared.basics.text import Text

SENTENCES: dict[str, Text] = {
    "circles": gettext_lazy(
        "You organise as many circles as one person can (%(most)s). Close one, or leave one first."
    ),
    "members": gettext_lazy(
        "This circle has had as many people as there is room for (%(most)s). "
        "An organiser can have some of those who have left forgotten."
    ),
    "invitations": gettext_lazy(
        "As many invitations as there can be (%(most)s) are open. Take back some that nobody needs."
    ),
    "keys": gettext_lazy(
        "You have as many keys as one person can (%(most)s). Revoke one that you no longer use."
    ),
    "drives": gettext_lazy(
        "The circle has as many drives as there is room for (%(most)s). "
        "Make another circle for the next one."
    ),
    "blankets": gettext_lazy(
        "The circle has as many blankets as there is room for (%(most)s). "
        "Make another circle for the next one."
    ),
    "squares": gettext_lazy(
        "The circle’s blankets would have more squares than there is room for (%(most)s). "
        "Make this one smaller, or make another circle for it."
    ),
    "yarns": gettext_lazy(
        "The store has as many yarns as there is room for (%(most)s). Add more of a yarn that "
        "you have to its own entry."
    ),
    "meetings": gettext_lazy(
        "The drive has as many meetings as there is room for (%(most)s). Drop one first."
    ),
    "absences": gettext_lazy(
        "As many times away as there is room for (%(most)s) are noted. Take one out first."
    ),
    "swatches": gettext_lazy(
        "This blanket has as many measured swatches as there is room for (%(most)s)."
    ),
}


def require_room(what: str, there: QuerySet[Any], more: int = 1) -> None:
    """Refused (no-room) where ``more`` besides the rows ``there`` go beyond the total of ``what``.

    The caller has the transaction in which they are made. Of two who meet without a lock both
    may get the last place, which harms nobody.
    """
    most = settings.TOTALS[what]
    if there.count() + more > most:
        detail = SENTENCES[what] % {"most": number_format(most, force_grouping=True)}
        raise Refused("no-room", detail, what=what, most=most)
