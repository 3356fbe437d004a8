"""Planning a blanket, and changing its layout where nothing is begun."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal

from accounts.actions.limits import spend_by
from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_all_squares, hold_blanket
from drives.actions.log import note_blanket
from drives.craft.layout import states
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import Place
from drives.models import Blanket, Drive, Square, StoredState, new_layout_key
from shared.basics.changes import save_changed
from shared.basics.totals import require_room
from shared.basics.transactions import writing


def plan_blanket(
    *, drive: Drive, by: Member, name: str, gauge: Decimal, layout: Layout, now: datetime
) -> Blanket:
    """A new blanket with all its squares. Raises craft's InvalidLayout, LimitReached."""
    planned = plan(layout)
    spend_by(by, "blankets", now)
    with writing():
        require_room("blankets", Blanket.objects.filter(drive__circle=drive.circle_id))
        blanket = Blanket.objects.create(
            drive=drive, name=name, gauge=gauge, created_at=now, **_columns(layout)
        )
        unmet = {place: states.unmet(planned, place, finished=set()) for place in planned.places}
        _add_squares(blanket, planned, planned.places, unmet)
        note_blanket(
            blanket,
            by,
            "planned",
            now,
            name=name,
            columns=layout.columns,
            rows=layout.rows,
            squares=len(planned.places),
        )
    return blanket


def change_layout(*, blanket: Blanket, by: Member, layout: Layout, now: datetime) -> Blanket:
    """The blanket with another layout; begun squares must come out of it exactly as they are.

    Raises craft's InvalidLayout; Refused: squares-begun.
    """
    planned = plan(layout)
    with writing():
        blanket, before = hold_blanket(blanket)
        held = hold_all_squares(blanket, to_remove=True)
        squares = {square.place: square for square in held}
        begun = {place for place, square in squares.items() if square.state != StoredState.OPEN}
        disturbed = [place for place in sorted(begun) if _differs(before, planned, place)]
        if disturbed:
            raise refusals.squares_begun(disturbed)
        gone = [place for place in squares if planned.size.get(place) != squares[place].size]
        new = [place for place in planned.places if place not in squares or place in gone]
        Square.objects.filter(pk__in=[squares[place].pk for place in gone]).delete()
        finished = {place for place in begun if squares[place].state == StoredState.FINISHED}
        unmet = {place: states.unmet(planned, place, finished=finished) for place in planned.places}
        _add_squares(blanket, planned, new, unmet)
        moved = [
            square
            for place, square in squares.items()
            if place not in gone and square.unmet != unmet[place]
        ]
        for square in moved:
            square.unmet = unmet[square.place]
        Square.objects.bulk_update(moved, ["unmet"], batch_size=500)
        newer = {"layout_version": blanket.layout_version + 1, "layout_key": new_layout_key()}
        save_changed(blanket, _columns(layout) | newer)
        note_blanket(
            blanket,
            by,
            "layout-changed",
            now,
            version=blanket.layout_version,
            added=len(new),
            removed=len(gone),
        )
    return blanket


def _add_squares(
    blanket: Blanket, planned: Plan, places: Iterable[Place], unmet: Mapping[Place, int]
) -> None:
    circle = blanket.drive.circle_id
    places = list(places)
    require_room("squares", Square.objects.filter(blanket__drive__circle=circle), len(places))
    Square.objects.bulk_create(
        Square(
            blanket=blanket,
            column=place.column,
            row=place.row,
            size=planned.size[place],
            unmet=unmet[place],
        )
        for place in places
    )


def _differs(old: Plan, new: Plan, place: Place) -> bool:
    """Whether the square at ``place`` would not be the same square on the same neighbours."""
    return (
        old.size[place] != new.size.get(place)
        or old.layout.stitches != new.layout.stitches
        or old.layout.mitre is not new.layout.mitre
        or old.foundation(place) != new.foundation(place)
    )


def _columns(layout: Layout) -> dict[str, object]:
    return {
        "columns": layout.columns,
        "rows": layout.rows,
        "stitches": layout.stitches,
        "mitre": layout.mitre.value,
        "corner_trade": layout.corner_trade,
        "seams": [[str(seam.first), str(seam.second)] for seam in sorted(layout.seams)],
    }
