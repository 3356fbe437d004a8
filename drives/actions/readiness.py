"""Whether a square can be begun, from the rows as they are now."""

from drives.actions import refusals
from drives.craft.layout import states
from drives.craft.places import Place
from drives.models import Blanket, Square, StoredState
from shared.basics.refusals import Refused


def is_ready(square: Square) -> bool:
    return Square.objects.ready().filter(pk=square.pk).exists()


def why_not_ready(square: Square) -> Refused:
    """Why the conditional UPDATE found no ready square there, from the rows as they are now.

    The layout too: ``square`` was read before, and a process remembers the plan of that time.
    """
    blanket, place = Blanket.objects.get(pk=square.blanket_id), square.place
    plan = blanket.plan()
    if place not in plan.size:
        return refusals.just_changed(place)
    rows = Square.objects.filter(blanket=blanket).exclude(state=StoredState.OPEN)
    begun = {
        Place(column, row): state
        for column, row, state in rows.values_list("column", "row", "state")
    }
    finished = {where for where, state in begun.items() if state == StoredState.FINISHED}
    refusal = states.refusal(plan, place, finished=finished, taken=begun.keys() - finished)
    if refusal is None:
        return refusals.just_changed(place)
    holder = square.open_claim()
    return refusals.cannot_begin(place, refusal, holder)
