"""What is foreseen of a blanket, as JSON has it. The same state gives the same all day long."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from django.utils import timezone

from drives.models import Sheet
from drives.readings.board import board_of
from drives.readings.outlook import outlook

from .kinds import FORESEEN


def foretell(sheet: Sheet, *, now: datetime, progress: Callable[[int], None]) -> Mapping[str, Any]:
    """What a sheet of such a kind says, as the blanket stands at ``now``."""
    kind = FORESEEN[sheet.kind]
    with timezone.override(sheet.blanket.drive.circle.time_zone):
        board, today = board_of(sheet.blanket), timezone.localdate(now)
        return kind.work_out(board, outlook(board, now), today, sheet.options, progress)
