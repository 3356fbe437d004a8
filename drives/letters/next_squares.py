"""Who could begin what this week, a line each."""

from collections.abc import Iterator
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from accounts.models import Circle
from drives.readings.board import boards_of
from drives.sheets.suggestions import Meant
from drives.words.rota import why

from .schedule import unfinished_in


def next_squares(circle: Circle, today: date) -> Iterator[str]:
    """By the newest rota of each blanket: the squares that are ready, and for whom."""
    boards = boards_of(unfinished_in(circle))
    by_rota = Meant([board.blanket for board in boards], today)
    for board in boards:
        for squares in by_rota.all_ready(board).values():
            for each in squares[:1]:
                yield _("%(name)s: %(place)s of “%(blanket)s”, from %(day)s. %(why)s") % {
                    "name": each["name"],
                    "place": each["place"],
                    "blanket": board.blanket,
                    "day": date_format(date.fromisoformat(each["begin"]), "SENTENCE_DAY_FORMAT"),
                    "why": why(each["why"], each["waiting"]),
                }
