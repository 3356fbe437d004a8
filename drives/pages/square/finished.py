"""What can be told of a finished square: its weight and its sides, and what follows from them."""

from typing import Any

from drives import measures
from drives.actions.rights import SquareRights
from drives.models import Measurement, Square, StoredState
from drives.pages.gauge.forms import SidesForm, WeighForm, needle_told
from drives.pages.gauge.words import verdict
from drives.readings.gauges import compared, gauge_of
from drives.readings.weights import is_odd, is_unlikely
from shared.pages.forms import ActionForm


def finished_facts(
    square: Square, rights: SquareRights, sent: ActionForm | None = None
) -> dict[str, object]:
    """For the square's card; ``sent`` is a form that was not right.

    Everybody sees the weight; the sides are for its knitter and for coordinators.
    """
    if square.state != StoredState.FINISHED:
        return {}
    units = square.blanket.drive.circle.units
    told: dict[str, object] = {
        "weight": square.grams and measures.weighed(float(square.grams), units),
        "odd": is_odd(square),
        "unlikely": is_unlikely(square),
    }
    if not rights.weigh:
        return told
    measured = _measured(square)
    initial = _initial(square, measured, units)
    weighing, sides = (
        WeighForm(None, units=units, initial={"weight": square.grams}),
        SidesForm(None, units=units, initial=initial),
    )
    return told | {
        "weighing": sent if isinstance(sent, WeighForm) else weighing,
        "sides": sent if isinstance(sent, SidesForm) else sides,
        "side_stitches": square.side_stitches,
        "measured": measured and measures_line(measured, units),
        "verdict": measured and _verdict(square, measured),
    }


def measures_line(row: Measurement, units: str) -> str:
    """Width × height of what was measured."""
    return " × ".join(measures.fine(float(cm), units) for cm in (row.width, row.height))


def _measured(square: Square) -> Measurement | None:
    """What its knitter measured of it."""
    mine = Measurement.objects.filter(square=square, member=square.knitter)
    return mine.order_by("-pk").first()


def _initial(square: Square, measured: Measurement | None, units: str) -> dict[str, Any]:
    """What was measured, to be corrected; else the needle that the knitter told last."""
    if measured:
        return {
            "width": measured.width,
            "height": measured.height,
            "needle": needle_told(measured.needle),
        }
    return {"needle": needle_told(last_needle(square.blanket_id, square.knitter_id))}


def last_needle(blanket_id: int, member_id: int | None) -> Any:
    """In mm, as the member told it last for this blanket; None where they did not."""
    told = Measurement.objects.filter(blanket=blanket_id, member=member_id)
    return told.order_by("-measured_at", "-pk").values_list("needle", flat=True).first()


def _verdict(square: Square, row: Measurement) -> list[str]:
    needle = None if row.needle is None else float(row.needle)
    return verdict(compared(row, square.blanket), square.blanket, needle, gauge_of(row))
