"""What an action on colours answers when something stands in the way."""

from collections.abc import Iterable, Sequence

from django.utils.translation import gettext as _

from drives.craft.colours.plan import Impossible, SearchGaveUp
from drives.craft.layout.states import Obstacle
from drives.craft.places import Place
from drives.words.colours import reason_words
from shared.basics.lists import listed
from shared.basics.refusals import Refused


def no_colour_plan(
    found: Impossible | SearchGaveUp,
    place: Place | None = None,
    colour: str = "",
    helps: Iterable[tuple[str, str]] | None = None,
) -> Refused:
    """``place`` was to be of that ``colour``, if any was chosen.

    ``helps``: what would help, by code and in words, where that was tried out.
    """
    would = {} if helps is None else {"helps": _coded(helps)}
    if isinstance(found, SearchGaveUp):
        text = _(
            "No plan was found, and no proof that there is none, in the time that a page may take. "
            "One colour more, or a wider rule, makes it easier."
        )
        return Refused("colour-plan-gave-up", text, **would)
    told = " ".join(map(reason_words, found.reasons))
    if place:
        facts = {"place": place, "colour": colour, "reasons": told}
        told = _("%(place)s cannot be %(colour)s. %(reasons)s") % facts
    reasons = _coded((reason.why, reason_words(reason)) for reason in found.reasons)
    return Refused("no-colour-plan", told, reasons=reasons, **would)


def _coded(told: Iterable[tuple[str, str]]) -> list[dict[str, str]]:
    return [{"code": str(code), "detail": words} for code, words in told]


def no_lot_plan(colours: Sequence[str]) -> Refused:
    text = _(
        "No way was found to keep the dye lots of %(colours)s apart as you chose. Let them meet "
        "the other way, or plan fewer squares of it."
    )
    return Refused("no-lot-plan", text % {"colours": listed(colours)}, colours=list(colours))


def not_in_palette(colour: str, palette: Sequence[str]) -> Refused:
    if not palette:
        text = _("The blanket has no colours yet; whoever organises it chooses them first.")
        return Refused("not-in-palette", text, palette=[])
    facts = {"colour": colour, "palette": listed(palette)}
    text = _("“%(colour)s” is none of the blanket’s colours. They are: %(palette)s.") % facts
    return Refused("not-in-palette", text, palette=list(palette))


def colour_is_there(colour: str) -> Refused:
    text = _(
        "The store’s “%(colour)s” is among the blanket’s colours; choose that one, "
        "or give your own yarn another name."
    )
    return Refused("colour-is-there", text % {"colour": colour})


def colour_stays(place: Place) -> Refused:
    text = _("%(place)s is finished, so its colour stays.") % {"place": place}
    return Refused(Obstacle.FINISHED, text)
