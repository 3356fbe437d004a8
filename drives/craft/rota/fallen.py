"""Why a square is no longer planned for somebody, as a code."""

from enum import StrEnum


class Fallen(StrEnum):
    """The values are codes for pages and the API."""

    TAKEN = "taken"  # somebody else has taken it
    LEFT = "left"  # they have left, or knit no longer
    AWAY = "away"  # they are away on that day
    OVER = "over"  # that day is long over
