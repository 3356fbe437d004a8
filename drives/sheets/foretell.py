"""What is foreseen of a blanket, as JSON. The same state gives the same bytes all day long."""

import json
from collections.abc import Callable
from datetime import datetime

from django.utils import timezone

from drives.models import Sheet
from drives.readings.board import board_of
from drives.readings.outlook import outlook

from .kinds import FORESEEN


def foretell(sheet: Sheet, *, now: datetime, progress: Callable[[int], None]) -> bytes:
    """What a sheet of such a kind says, as the blanket stands at ``now``."""
    kind = FORESEEN[sheet.kind]
    with timezone.override(sheet.blanket.drive.circle.time_zone):
        board, today = board_of(sheet.blanket), timezone.localdate(now)
        said = kind.work_out(board, outlook(board, now), today, sheet.options, progress)
    return json.dumps(said).encode()
