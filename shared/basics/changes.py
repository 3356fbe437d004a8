"""Changing rows by what they are to be: only what is different is written, and known by name."""

from collections.abc import Mapping

from django.db.models import Model


def set_changed(row: Model, wanted: Mapping[str, object]) -> list[str]:
    """Set the fields of ``row``, unsaved; answers those that were different."""
    changed = [name for name, value in wanted.items() if getattr(row, name) != value]
    for name in changed:
        setattr(row, name, wanted[name])
    return changed


def save_changed(row: Model, wanted: Mapping[str, object]) -> list[str]:
    """Set and save the fields that are different; answers them."""
    changed = set_changed(row, wanted)
    if changed:
        row.save(update_fields=changed)
    return changed
