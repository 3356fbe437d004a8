"""Whether the yarn suffices for the squares that a colour plan has to keep."""

from collections.abc import Iterator, Mapping

from .colour_reasons import Reason, Why, squares


def kept_short(needed: Mapping[str, int], rooms: Mapping[str, int | None]) -> Iterator[Reason]:
    """The colours that are short for kept squares, not knitted yet, that need so many units.

    ``rooms``: the units that each colour suffices for; None, or a colour that is not there: any.
    """
    for colour, units in needed.items():
        room = rooms.get(colour)
        if room is not None and units > room:
            be = "has" if units == 1 else "have"
            yield Reason(
                Why.SHORT,
                f"{squares(units)} to be knitted {be} {colour} for good:"
                f" {colour} suffices for {room}. {squares(units - room)} short.",
                {"colours": [colour], "short": units - room, "wanted": units, "enough_for": room},
            )
