"""What the core knows of a person: the hand that works, and the words of the trade."""

from enum import StrEnum


class Hand(StrEnum):
    """The hand that a knitter works with."""

    RIGHT = "right"
    LEFT = "left"


class English(StrEnum):
    """The terms that the reader is used to."""

    BRITISH = "british"
    AMERICAN = "american"
