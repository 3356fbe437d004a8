"""The status sheets of a circle's unfinished blankets."""

from datetime import datetime

from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.actions.paper.sheets import give_up_lost_sheet
from drives.craft.layout.states import State
from drives.models import Letter, Sheet, Status
from drives.models.sheet import Trouble
from drives.readings.board import Board, boards_of
from shared.storage.files import FilesAway

from .content import Content, address, day_is_over

PATIENT_ATTEMPTS = 5  # half an hour; what says how things stand should not come too late


def weekly(letter: Letter, now: datetime) -> Content | None:
    """How each blanket stands, with its sheet; one that failed is said to be missing.

    FilesAway while the files do not answer and it may wait for them; then they are missing too.
    """
    if day_is_over(letter, now):
        return None
    sheets = list(letter.sheets.select_related("blanket__drive").order_by("pk"))
    told, files = [], []
    for sheet, board in zip(sheets, boards_of([sheet.blanket for sheet in sheets]), strict=True):
        blanket = board.blanket
        made = _read(sheet, may_wait=letter.attempt < PATIENT_ATTEMPTS)
        if made is not None:
            name = slugify(blanket.name) or "blanket"
            files.append((f"{name}-{blanket.pk}-{letter.about}.pdf", made))
        told.append(
            {
                "blanket": blanket,
                "standing": _standing(board, now),
                "missing": made is None,
                "link": address("blanket", blanket.pk),
            }
        )
    return Content({"blankets": told, "attached": len(files)}, files) if told else None


def _standing(board: Board, now: datetime) -> str:
    """``4 of 9 squares are finished; 2 can be begun; 1 is late.``"""
    begin = sum(state is State.READY for state in board.state_of.values())
    late = len(list(board.late(now)))
    squares = len(board.plan.places)
    told = [
        ngettext(
            "%(finished)d of %(all)d square is finished",
            "%(finished)d of %(all)d squares are finished",
            squares,
        )
        % {"finished": len(board.finished), "all": squares}
    ]
    if begin:
        told.append(_("%(count)d can be begun") % {"count": begin})
    if late:
        told.append(ngettext("%(count)d is late", "%(count)d are late", late) % {"count": late})
    return "; ".join(told) + "."


def _read(sheet: Sheet, *, may_wait: bool) -> bytes | None:
    if sheet.status != Status.DONE:
        return None
    try:
        with sheet.file.open() as file:
            return bytes(file.read())
    except FileNotFoundError:
        give_up_lost_sheet(sheet=sheet, error=Trouble.LOST)
        return None
    except FilesAway:
        if may_wait:
            raise
        return None
