"""The kinds of sheets, one file for each, which says all about it: a new one is listed here."""

from drives.sheets.kind import Document, LookAhead

from .cards import CARDS
from .finishing import FINISHING
from .forecast import FORECAST
from .gift import GIFT
from .label import LABEL
from .meeting import MEETING
from .panels import PANELS
from .rota import ROTA
from .set import SET
from .status import STATUS
from .wall import WALL

__all__ = [
    "CARDS",
    "FINISHING",
    "FORECAST",
    "FORESEEN",
    "GIFT",
    "KINDS",
    "LABEL",
    "MEETING",
    "PANELS",
    "PRINTED",
    "ROTA",
    "SET",
    "STATUS",
    "WALL",
]

PRINTED: dict[str, Document] = {
    kind.code: kind for kind in (CARDS, LABEL, STATUS, WALL, MEETING, SET, FINISHING, GIFT)
}
"""By their codes, as one is offered them: the key Enter presses the first one's button."""

FORESEEN: dict[str, LookAhead] = {kind.code: kind for kind in (FORECAST, PANELS, ROTA)}

KINDS: dict[str, Document | LookAhead] = {**PRINTED, **FORESEEN}
