"""Rows as they are kept, for whoever takes them along: one file, with a table of JSON for each."""

import json
from collections.abc import Callable, Mapping
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZipFile

from django.core.serializers.json import DjangoJSONEncoder
from django.db.models import ForeignKey, Model, Q
from django.db.models.fields.files import FieldFile

from accounts.belongings import Table, about_person, of_circle
from accounts.models import Circle, Event, Invitation, Mail, Member, User
from drives.models import FinderNote, HandOver

AT_A_TIME = 2000  # rows in memory

SECRETS = frozenset(
    {"password", "body", "digest", "key", "data", "secret", "token", "session_key", "session_data"}
)
"""Fields that open a door: they are told nobody, not even whose they are."""

Row = dict[str, Any]


def write_person(user: User, file: IO[bytes]) -> None:
    """Everything that is kept of ``user``: of other people no more than their names."""
    tables = about_person(user)
    tables[Invitation] |= Q(email=user.email)
    tables[Mail] = Q(to=user.email)
    mine = list(user.memberships.values_list("pk", flat=True))
    tables[Event] |= Q(facts__member__in=mine) | Q(facts__to__in=mine)

    def told(row: Model) -> Row:
        return told_row(row, called=True) | _of_others(row, user)

    _write(tables, told, file)


def write_circle(circle: Circle, file: IO[bytes]) -> None:
    """Everything that is kept of ``circle``, but what two people told each other alone."""

    def told(row: Model) -> Row:
        private = isinstance(row, HandOver)
        return told_row(row) | (
            {"giver_contact": None, "receiver_contact": None} if private else {}
        )

    _write(of_circle(circle), told, file)


def told_row(row: Model, *, called: bool = False) -> Row:
    """The row's fields by their names; ``called``: what it points to is named beside its id."""
    told: Row = {}
    for field in row._meta.concrete_fields:
        if field.name in SECRETS:
            continue
        value = getattr(row, field.attname)
        if isinstance(value, FieldFile):
            value = value.name
        if called and isinstance(field, ForeignKey) and value is not None:
            value = {"id": value, "called": str(getattr(row, field.name))}
        told[field.name] = value
    return told


def _of_others(row: Model, user: User) -> Row:
    """What others have confided in rows that ``user`` only had to do with."""
    match row:
        case Invitation() if row.email != user.email:
            return {"email": None}
        case FinderNote():
            return {"text": None, "contact": None}
        case HandOver():
            mine = {"giver": row.giver, "receiver": row.receiver}
            return {
                f"{side}_contact": None
                for side, member in mine.items()
                if member is None or member.user_id != user.pk
            }
        case Member() if row.user_id != user.pk:
            return {"note": None}
    return {}


def _write(tables: Mapping[Table, Q], told: Callable[[Model], Row], file: IO[bytes]) -> None:
    with ZipFile(file, "w", ZIP_DEFLATED) as along:
        for table, condition in tables.items():
            with along.open(f"{table._meta.label_lower}.json", "w", force_zip64=True) as part:
                keys = [key.name for key in table._meta.concrete_fields if key.is_relation]
                rows = table._base_manager.filter(condition).select_related(*keys).order_by("pk")
                before = b"[\n"
                for row in rows.iterator(chunk_size=AT_A_TIME):
                    line = json.dumps(told(row), cls=DjangoJSONEncoder, ensure_ascii=False)
                    part.write(before + line.encode())
                    before = b",\n"
                part.write(b"\n]\n" if before == b",\n" else b"[]\n")
