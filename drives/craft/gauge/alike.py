"""Who knits alike: members whose squares lie flat beside each other."""

from collections.abc import Mapping
from math import log
from typing import NamedTuple

from drives.craft.numbers.ranges import Range

from .tension import TOLERANCE


class AlikeKnitters(NamedTuple):
    """``members`` by number, the loosest first, and their ``gauge`` in stitches to 10 cm."""

    members: tuple[int, ...]
    gauge: Range

    @property
    def apart(self) -> float:
        """How far apart their gauges are at most, as a share."""
        return self.gauge.high / self.gauge.low - 1


def alike_knitters(
    gauges: Mapping[int, float], tolerance: float = TOLERANCE
) -> tuple[AlikeKnitters, ...]:
    """Members with their gauge, in groups that are at most ``tolerance`` apart; the loosest first.

    As few groups as can be; of the ways to do it the one with the least difference within groups
    (ratios of gauges, summed as logarithms), and of equal ways the one with the larger groups
    among the looser. Sorted by gauge, a group is a stretch of the list: the best way to divide what
    begins with each member is found once, from the end (dynamic programming).
    """
    order = sorted(gauges, key=lambda member: (gauges[member], member))
    logs = [log(gauges[member]) for member in order]
    best = [(0, 0.0, 0)]  # for each beginning, the last first: groups, difference, − the next one
    for first in reversed(range(len(order))):
        best.insert(
            0,
            min(
                (groups + 1, round(difference + apart, 9), -after)
                for after, (groups, difference, _) in enumerate(best, first + 1)
                if (apart := logs[after - 1] - logs[first]) <= log(1 + tolerance) + 1e-9
            ),
        )
    found, first = [], 0
    while first < len(order):
        after = -best[first][2]
        members = tuple(order[first:after])
        found.append(AlikeKnitters(members, Range(gauges[members[0]], gauges[members[-1]])))
        first = after
    return tuple(found)
