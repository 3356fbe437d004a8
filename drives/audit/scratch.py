"""All tables as the models make them today: empty ones, that are gone again at once."""

from collections.abc import Sequence, Set
from contextlib import closing
from functools import cache

from django.apps import apps
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from .catalogue import SchemaPart, read_parts

# Statements that make each check and each condition of an index again from its own words.
AS_A_DUMP_DOES = """
SELECT format('ALTER TABLE %s DROP CONSTRAINT %I, ADD CONSTRAINT %I %s',
              conrelid::regclass, conname, conname, pg_get_constraintdef(oid))
  FROM pg_constraint WHERE contype = 'c' AND connamespace = pg_my_temp_schema()
UNION ALL
SELECT format('DROP INDEX %s; %s', i.oid::regclass, pg_get_indexdef(i.oid))
  FROM pg_class i JOIN pg_index x ON x.indexrelid = i.oid
 WHERE x.indpred IS NOT NULL AND i.relnamespace = pg_my_temp_schema()
"""


@cache
def meant_parts(alias: str) -> tuple[Sequence[SchemaPart], Set[SchemaPart]]:
    """The parts of all tables for a database like this one: as made, and as restored from a dump.

    PostgreSQL reads its own words back with other brackets. There they are temporary tables in a
    session of its own, which whoever may sign in may make unless that was forbidden.
    """
    scratch = connections[alias].copy()
    if scratch.vendor == "sqlite":
        scratch.settings_dict["NAME"] = ":memory:"
    scratch.connect()
    with closing(scratch.connection):
        if scratch.vendor == "postgresql":
            with scratch.cursor() as cursor:
                cursor.execute("SET search_path TO pg_temp")
        with scratch.schema_editor() as editor:
            for model in apps.get_models():
                editor.create_model(model)
        made = read_parts(scratch)
        if scratch.vendor == "postgresql":
            _make_again(scratch)
        return made, frozenset(read_parts(scratch))


def _make_again(scratch: BaseDatabaseWrapper) -> None:
    with scratch.cursor() as cursor:
        cursor.execute(AS_A_DUMP_DOES)
        for (statement,) in cursor.fetchall():
            cursor.execute(statement)
