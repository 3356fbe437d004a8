"""The rows of what is made: import them from here, not from the files beside this one."""

from .blanket import Blanket
from .calendar import Absence, Meeting
from .claim import Claim, Ending
from .drive import Drive, Mode
from .piece import HandOver, Piece, PieceEnding, Turn, TurnEnding, Way
from .sheet import PRINTED, Kind, Paper, Sheet, Status
from .square import Square, State

__all__ = [
    "PRINTED",
    "Absence",
    "Blanket",
    "Claim",
    "Drive",
    "Ending",
    "HandOver",
    "Kind",
    "Meeting",
    "Mode",
    "Paper",
    "Piece",
    "PieceEnding",
    "Sheet",
    "Square",
    "State",
    "Status",
    "Turn",
    "TurnEnding",
    "Way",
]
