"""The yarn store as a file tells it."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from accounts.models import Circle, Member
from drives.actions.locks import hold_yarns
from drives.actions.log import note_circle
from drives.models import Move, Yarn, YarnWay
from shared.basics.changes import set_changed
from shared.basics.totals import require_room
from shared.basics.transactions import writing

from .reservations import use_up
from .store import Names, YarnSettings, columns


class YarnRow(NamedTuple):
    """A yarn in a file. Of one that is there already only the settings ``told`` count.

    ``grams`` in the store; None where the file does not tell them.
    """

    settings: YarnSettings
    told: frozenset[str]
    grams: int | None


class Imported(NamedTuple):
    """How many yarns are new, and of how many something is different now."""

    added: int
    changed: int


def import_yarns(*, circle: Circle, rows: Sequence[YarnRow], by: Member, now: datetime) -> Imported:
    """All ``rows``, each colour and dye lot once, or none.

    A yarn that is there already is counted again, and known as the file tells it. Yarns
    that the file does not name stay as they are.
    """
    added: list[Yarn] = []
    changed: list[Yarn] = []
    fields: set[str] = set()
    lines: list[Move] = []
    with writing():
        names = Names(circle)
        held = hold_yarns(names.circle)
        for settings, told, grams in rows:
            same = names.same(settings)
            if same is None:
                yarn = Yarn(circle=names.circle, added_at=now, **names.columns(settings))
                names.add(yarn)
                added.append(yarn)
            else:
                yarn = held[same.pk]
                kept = told - {"colour", "dye_lot"}
                facts = {name: value for name, value in settings.items() if name in kept}
                different = set_changed(yarn, columns(facts))
                fields |= {*different}
            more = 0 if grams is None else grams - yarn.grams
            if more:
                way = YarnWay.COUNTED if same else YarnWay.RECEIVED
                lines.append(Move(yarn=yarn, way=way, grams=more, from_file=True, by=by, at=now))
                yarn.grams += more
            if same and (more or different):
                changed.append(yarn)
        if added:
            require_room("yarns", Yarn.objects.filter(circle=names.circle), len(added))
        Yarn.objects.bulk_create(added)
        if changed:
            Yarn.objects.bulk_update(changed, {*fields, "grams"})
        Move.objects.bulk_create(lines)
        for line in lines:
            if line.grams < 0:
                use_up(line.yarn, 0, None, by, now)
        if added or changed:
            note_circle(
                names.circle, by, "yarns-imported", now, added=len(added), changed=len(changed)
            )
    return Imported(len(added), len(changed))
