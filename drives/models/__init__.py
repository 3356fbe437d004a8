"""The rows of what is made: import them from here, not from the files beside this one."""

from .blanket import Blanket
from .claim import Claim, Ending
from .drive import Drive, Mode
from .piece import HandOver, Piece
from .sheet import Kind, Paper, Sheet, Status
from .square import Square, State

__all__ = [
    "Blanket",
    "Claim",
    "Drive",
    "Ending",
    "HandOver",
    "Kind",
    "Mode",
    "Paper",
    "Piece",
    "Sheet",
    "Square",
    "State",
    "Status",
]
