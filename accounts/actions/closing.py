"""The end of a circle."""

from datetime import datetime
from functools import partial

from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import FileField

from accounts import belongings
from accounts.actions.locks import hold_circle
from accounts.actions.notes import note_event
from accounts.models import Circle, Invitation, Member, Role
from shared.basics.refusals import Refused
from shared.basics.transactions import writing


def close_circle(*, circle: Circle, by: Member, now: datetime) -> Circle:
    """The circle, which nobody is in any more; what it holds is removed later."""
    with writing():
        circle = hold_circle(circle.pk)
        if circle.closed_at is None:
            note_event(by, "circle-closed", {}, now)
            Invitation.objects.open(now).filter(circle=circle).update(revoked_at=now)
            nobody = {f"is_{role.value}": False for role in Role}
            circle.members.present().update(left_at=now, note="", **nobody)
            circle.closed_at = now
            circle.save(update_fields=["closed_at"])
    return circle


def reopen_circle(*, circle: Circle, organiser: Member, now: datetime) -> Circle:
    """The closed circle with its ``organiser`` back in it, who can invite the others."""
    with writing():
        circle = hold_circle(circle.pk)
        if circle.closed_at is None:
            raise Refused("circle-is-open", "The circle is not closed.")
        organiser.left_at = None
        roles = organiser.set_roles([Role.ORGANISER, Role.VOLUNTEER])
        organiser.save(update_fields=["left_at", *roles])
        circle.closed_at = None
        circle.save(update_fields=["closed_at"])
        note_event(organiser, "circle-reopened", {}, now)
    return circle


def remove_closed_circles(*, before: datetime) -> int:
    """Remove all that the circles hold which were closed before then; answers how many."""
    closed = list(Circle.objects.filter(closed_at__lt=before).order_by("pk"))
    for circle in closed:
        with writing():
            hold_circle(circle.pk)
            _remove(circle)
    return len(closed)


def _remove(circle: Circle) -> None:
    """Every row of the circle, the log too, and its files: what points to a row goes before it."""
    files: list[str] = []
    for table, condition in reversed(belongings.of_circle(circle).items()):
        rows = table._base_manager.filter(condition)
        for field in table._meta.concrete_fields:
            if isinstance(field, FileField):
                files += rows.exclude(**{field.name: ""}).values_list(field.name, flat=True)
        # By their ids: a table may not be joined in what deletes from it. And as they are, since
        # what the models protect goes with the circle.
        rows = table._base_manager.filter(pk__in=rows.values("pk"))
        rows._raw_delete(rows.db)
    for name in files:
        transaction.on_commit(partial(default_storage.delete, name))
