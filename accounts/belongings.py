"""Which rows are whose, read from the models themselves, so that no table can be forgotten.

A row belongs to a circle when a foreign key of it, or of what that leads to, ends at the circle; it
is about a person when one of its foreign keys names the person.
"""

from collections.abc import Iterator
from typing import Any

from django.apps import apps
from django.db.models import CASCADE, ForeignKey, Model, Q

from accounts.models import Circle, Member, User

Table = type[Model]


def of_circle(circle: Circle) -> dict[Table, Q]:
    """Every table with rows of circles, and the condition for those of this one.

    What a row points to comes before the row itself.
    """
    return {
        table: Q(*((path, circle.pk) for path in paths), _connector=Q.OR)
        for table, paths in _paths_to_circle().items()
    }


def about_person(user: User) -> dict[Table, Q]:
    """Every table with rows that name a person, and the condition for those that name this one."""
    members = user.memberships.values("pk")
    told: dict[Table, Q] = {User: Q(pk=user.pk)}
    for table, key in _keys_to(User):
        told[table] = told.get(table, Q()) | Q(**{key.name: user.pk})
    for table, key in _keys_to(Member):
        told[table] = told.get(table, Q()) | Q(**{f"{key.name}__in": members})
    return told


def theirs_alone() -> list[tuple[Table, str]]:
    """What goes with a member, because it concerns nobody else: the table, and its key to them.

    It is what the models let go with its member (``CASCADE``); what they protect is the circle's.
    """
    return [
        (table, key.name)
        for table, key in _keys_to(Member)
        if key.remote_field.on_delete is CASCADE
    ]


def _keys_to(whom: Table) -> Iterator[tuple[Table, "ForeignKey[Any, Any]"]]:
    for table in apps.get_models():
        for key in _keys(table):
            if key.remote_field.model is whom:
                yield table, key


def _keys(table: Table) -> "list[ForeignKey[Any, Any]]":
    return [field for field in table._meta.concrete_fields if isinstance(field, ForeignKey)]


def _paths_to_circle() -> dict[Table, list[str]]:
    """By what a row of each table is found: one path that is never null, else all there are."""
    found: dict[Table, list[str]] = {Circle: ["pk"]}
    tables = apps.get_models(include_auto_created=True)
    while True:
        news = {
            table: paths
            for table in tables
            if table not in found and (paths := _through(table, found, nullable=False))
        } or {
            table: paths
            for table in tables
            if table not in found and (paths := _through(table, found, nullable=True))
        }
        if not news:
            return found
        found |= news


def _through(table: Table, found: dict[Table, list[str]], *, nullable: bool) -> list[str]:
    """The paths of a table by what has been ``found``: of one key if that is never null."""
    if nullable and not all(key.null for key in _keys(table)):
        return []  # it has a surer way, which is found later
    by_key = [
        [
            key.name if before == "pk" else f"{key.name}__{before}"
            for before in found[key.remote_field.model]
        ]
        for key in _keys(table)
        if key.null is nullable and key.remote_field.model in found
    ]
    if nullable:
        return [path for paths in by_key for path in paths]
    return min(by_key, key=lambda paths: paths[0].count("__"), default=[])
