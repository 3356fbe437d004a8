"""The rows of what is made: import them from here, not from the files beside this one."""

from .blanket import MITRES, PATTERNS, Blanket, new_layout_key
from .buying import CERTAINTIES, Buying
from .calendar import Absence, Meeting
from .claim import Claim, Ending
from .code import Code, FinderNote
from .drive import Drive, Mode
from .feed import Feed
from .gift import Gift
from .letter import Letter, Subject, Subscription
from .lots import LOT_WAYS, LotChoice, Reservation
from .measurement import Measurement
from .options import Ink, Options, Paper, Print
from .palette import Colour
from .piece import HandOver, HandOverWay, Piece, PieceEnding, Turn, TurnEnding
from .receiver import Overruling, Receiver
from .rota import RotaLine
from .sheet import Sheet, Status
from .square import Square, StoredState
from .yarn import Holding, Move, Yarn, YarnWay

__all__ = [
    "CERTAINTIES",
    "LOT_WAYS",
    "MITRES",
    "PATTERNS",
    "Absence",
    "Blanket",
    "Buying",
    "Claim",
    "Code",
    "Colour",
    "Drive",
    "Ending",
    "Feed",
    "FinderNote",
    "Gift",
    "HandOver",
    "HandOverWay",
    "Holding",
    "Ink",
    "Letter",
    "LotChoice",
    "Measurement",
    "Meeting",
    "Mode",
    "Move",
    "Options",
    "Overruling",
    "Paper",
    "Piece",
    "PieceEnding",
    "Print",
    "Receiver",
    "Reservation",
    "RotaLine",
    "Sheet",
    "Square",
    "Status",
    "StoredState",
    "Subject",
    "Subscription",
    "Turn",
    "TurnEnding",
    "Yarn",
    "YarnWay",
    "new_layout_key",
]
