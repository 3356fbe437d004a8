"""What is proposed about a piece, in sentences that fit its holder and everybody else."""

from collections.abc import Sequence
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.forecast.passing import Passing, Step
from drives.craft.places import Place
from shared.basics.lists import either, listed

MOST = 3  # squares that are told


def next_step_words(
    do: Step | None,
    squares: Sequence[Place],
    *,
    in_work: bool,
    first: str,
    waiting: int,
    day: date | None,
) -> list[str]:
    """``first``: who is first in line, if anybody is; the rest as in ``NextStep``."""
    facts = {
        "places": (listed if in_work else either)(squares[:MOST]),
        "name": first,
        "more": waiting - 1,
        "day": date_format(day, "MONTH_DAY_FORMAT") if day else "",
    }
    told = [_line(waiting - 1)] if waiting else []
    if do is Step.GIVE:
        told += _giving(bool(squares), in_work, day)
    elif waiting:
        told.append(_("It stays where it is until nothing more can be begun on it."))
    if do is Step.FINISH:
        told.append(_("On the needles: %(places)s."))
    elif do is Step.BEGIN:
        told.append(_("%(places)s can be begun on it."))
    elif do is None:
        told.append(_("Nothing can be begun on it now, and nobody waits for it."))
    return [sentence % facts for sentence in told]


def _line(more: int) -> str:
    if not more:
        return _("%(name)s waits for it.")
    return ngettext(
        "%(name)s waits for it, and %(more)d more is in line.",
        "%(name)s waits for it, and %(more)d more are in line.",
        more,
    )


def _giving(can_begin: bool, in_work: bool, day: date | None) -> list[str]:
    """When it goes to the first in line."""
    if day is None:
        if in_work:
            return [_("It can be passed on as soon as %(places)s is off the needles.")]
        return [_("It can be passed on now.")]
    meets = _("It is passed on when you meet, on %(day)s.")
    if in_work:
        return [meets, _("On the needles until then: %(places)s.")]
    return [meets, _("Until then %(places)s can be begun on it.")] if can_begin else [meets]


def passing_words(passing: Passing, day: date | None = None) -> str:
    """How travelling pieces go on in a drive; ``day``: when they change hands next at a meeting."""
    match passing:
        case Passing.KEEP:
            return _("A piece stays with whoever has it until nothing more can be begun on it.")
        case Passing.MEET if day:
            told = _("Pieces change hands when you meet, next on %(day)s.")
            return told % {"day": date_format(day, "MONTH_DAY_FORMAT")}
        case Passing.MEET:
            return _("Pieces change hands when you meet.")
    return _("A piece goes on after each square, as soon as somebody waits for it.")
