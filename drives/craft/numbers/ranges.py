"""An honest number: from so much to so much."""

from typing import NamedTuple


class Range(NamedTuple):
    low: float
    high: float

    def times(self, factor: float) -> "Range":
        return Range(self.low * factor, self.high * factor)
