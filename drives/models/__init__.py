"""The rows of what is made: import them from here, not from the files beside this one."""

from .blanket import Blanket
from .calendar import Absence, Meeting
from .claim import Claim, Ending
from .code import Code, FinderNote
from .drive import Drive, Mode
from .feed import Feed
from .gift import Gift
from .letter import Letter, Subject, Subscription
from .options import Ink, Options, Paper, Print
from .piece import HandOver, Piece, PieceEnding, Turn, TurnEnding, Way
from .sheet import PRINTED, Kind, Sheet, Status
from .square import Square, State

__all__ = [
    "PRINTED",
    "Absence",
    "Blanket",
    "Claim",
    "Code",
    "Drive",
    "Ending",
    "Feed",
    "FinderNote",
    "Gift",
    "HandOver",
    "Ink",
    "Kind",
    "Letter",
    "Meeting",
    "Mode",
    "Options",
    "Paper",
    "Piece",
    "PieceEnding",
    "Print",
    "Sheet",
    "Square",
    "State",
    "Status",
    "Subject",
    "Subscription",
    "Turn",
    "TurnEnding",
    "Way",
]
