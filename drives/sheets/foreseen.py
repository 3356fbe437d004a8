"""What has been foreseen of a blanket, and whether it is still true."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, NamedTuple

from drives.actions.paper.sheets import live_sheet
from drives.models import Blanket, Sheet, Status

from .kind import LookAhead


class Foreseen(NamedTuple):
    """``asked``: the sheet of the blanket as it stands, if one was asked for; it may be queued.

    ``made``: what there is to be read: that one if it is done, or else the one made last.
    """

    asked: Sheet | None
    made: Sheet | None

    @property
    def current(self) -> bool:
        """Whether what there is to be read is still true."""
        return self.made is not None and self.made == self.asked


def foreseen(
    kind: LookAhead, blanket: Blanket, options: Mapping[str, Any], now: datetime
) -> Foreseen:
    """What is there; nothing is asked for. Of options that differ nothing is told."""
    asked = live_sheet(kind=kind, blanket=blanket, options=options, now=now)
    if asked is not None and asked.status == Status.DONE:
        return Foreseen(asked, asked)
    made = Sheet.objects.foretold().filter(blanket=blanket, kind=kind.code, options=options)
    return Foreseen(asked, made.order_by("-pk").first())
