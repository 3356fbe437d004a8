"""What an action on yarn for a blanket answers when something stands in the way."""

from django.utils.translation import gettext as _

from drives import measures
from drives.craft.yarn.lots import Unlike
from drives.models import Blanket, Yarn
from shared.basics.refusals import Refused


def not_so_much_free(yarn: Yarn, free: int) -> Refused:
    """``free``: the grams that are not reserved for other blankets."""
    facts = {"yarn": yarn, "free": measures.balance_line(free, yarn.circle.units)}
    text = _("Of “%(yarn)s” %(free)s can be reserved: the rest is kept for other blankets.")
    if not free:
        text = _("Of “%(yarn)s” nothing can be reserved: it is used up, or kept for others.")
    return Refused("not-so-much-free", text % facts, grams=free)


def blanket_is_given(blanket: Blanket) -> Refused:
    text = _("“%(blanket)s” is handed over: it needs no more yarn.") % {"blanket": blanket}
    return Refused("blanket-is-given", text)


def no_such_lot(colour: str) -> Refused:
    text = _("The store has no such dye lot of %(colour)s any more; look at the store again.")
    return Refused("no-such-lot", text % {"colour": colour})


def one_lot_alone(colour: str) -> Refused:
    text = _("Choose two dye lots of %(colour)s or more; one alone needs no choice.")
    return Refused("one-lot-alone", text % {"colour": colour})


def lots_unlike(one: Yarn, other: Yarn, why: Unlike) -> Refused:
    text = {
        Unlike.THICKNESS: _("“%(one)s” and “%(other)s” are not equally thick: never mix them."),
        Unlike.FIBRES: _("“%(one)s” and “%(other)s” are not of the same fibres: never mix them."),
        Unlike.NOT_KNOWN: _(
            "Note the weight category and the fibres of both “%(one)s” and “%(other)s” first: "
            "thickness and fibres are never mixed."
        ),
    }[why]
    return Refused("lots-unlike", text % {"one": one, "other": other}, why=why.value)
