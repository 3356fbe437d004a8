"""What is foreseen of a blanket, as JSON. The same state gives the same bytes all day long."""

import json
from collections.abc import Callable
from datetime import datetime

from django.utils import timezone

from drives.models import Kind, Sheet
from drives.readings.board import board
from drives.readings.foretold import Foretold, Panels
from drives.readings.outlook import outlook

from .kinds import forecast, panels


def foretell(sheet: Sheet, *, now: datetime, progress: Callable[[int], None]) -> bytes:
    """The forecast, or the proposals, as the blanket stands at ``now``."""
    with timezone.override(sheet.blanket.drive.circle.time_zone):
        there, today = board(sheet.blanket), timezone.localdate(now)
        known = outlook(there, now)
        said: Foretold | Panels
        if sheet.kind == Kind.FORECAST:
            said = forecast.told(there, known, today, progress)
        else:
            said = panels.told(there, known, today, sheet.options, progress)
    return json.dumps(said).encode()
