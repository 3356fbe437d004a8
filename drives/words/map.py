"""What the maps say: each square, each boundary, and what their signs mean."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from shared.basics.lists import listed

STATE_NAMES = {
    State.WAITING: gettext_lazy("waiting"),
    State.READY: gettext_lazy("ready"),
    State.TAKEN: gettext_lazy("taken"),
    State.FINISHED: gettext_lazy("finished"),
}

# What each sign of the map is called, and what it means.
SIGNS = {
    **{state.value: name for state, name in STATE_NAMES.items()},
    "late": gettext_lazy("late"),
    "mine": gettext_lazy("yours"),
    "piece": gettext_lazy("a piece"),
    "seam": gettext_lazy("seam"),
    "missing": gettext_lazy("missing"),
    "empty": gettext_lazy("empty"),
    "yarn": gettext_lazy("yarn"),
}
MEANINGS = {
    "waiting": gettext_lazy("waiting: a square that it joins onto is not finished"),
    "ready": gettext_lazy("ready: can be begun now"),
    "taken": gettext_lazy("taken: somebody is knitting it"),
    "finished": gettext_lazy("finished"),
    "late": gettext_lazy("late: taken, and its day has passed"),
    "mine": gettext_lazy("yours: you are knitting it"),
    "piece": gettext_lazy("a piece: squares that hang together; its name stands on dark"),
    "seam": gettext_lazy("seam: not joined, sewn at the end"),
    "missing": gettext_lazy("missing: no square here"),
}


def square_words(
    plan: Plan, place: Place, state: State, *, holder: str = "", piece: str = "", late: bool = False
) -> str:
    """A square for those who do not see the map: ``C4, ready, joins onto B4 and C3``.

    ``holder``: who has it in hand. ``piece``: the name of the one that it is part of.
    """
    supports = plan.stands_on[place]
    told = [
        str(place),
        str(STATE_NAMES[state]),
        _("joins onto %(squares)s") % {"squares": listed(supports)}
        if supports
        else _("joins onto nothing"),
    ]
    if holder:
        told.append(_("with %(name)s") % {"name": holder})
    if piece:
        told.append(_("in piece %(piece)s") % {"piece": piece})
    if late:
        told.append(_("late"))
    return ", ".join(told)


def place_words(layout: Layout, place: Place) -> str:
    """A place of the planner."""
    return _("%(place)s, missing") % {"place": place} if place in layout.missing else str(place)


def boundary_words(layout: Layout, first: Place, second: Place) -> str:
    """A boundary of the planner, which is a seam or is not."""
    facts = {"first": first, "second": second}
    if Seam(first, second) in layout.seams:
        return _("Between %(first)s and %(second)s: a seam") % facts
    return _("Between %(first)s and %(second)s: joined") % facts
