"""What a database says of its own tables: columns, rules and indexes, each with its definition."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from django.db.backends.base.base import BaseDatabaseWrapper

# Of SQLite: the statements that made the tables and indexes, as they would be written today.
STATEMENTS = "SELECT tbl_name, type, name, sql FROM sqlite_master WHERE sql IS NOT NULL"

# Of PostgreSQL: every part of the tables that a name without a schema stands for. What is not
# null is told of a column, not as a rule; an index that a rule made is told as that rule.
PARTS = """
WITH c AS (
SELECT oid, relname FROM pg_class
 WHERE relkind = 'r' AND relnamespace <> 'pg_catalog'::regnamespace AND pg_table_is_visible(oid)
)
SELECT c.relname, 'column', a.attname,
       format_type(a.atttypid, a.atttypmod)
       || CASE WHEN a.attnotnull THEN ' NOT NULL' ELSE ' NULL' END
       || CASE WHEN a.attidentity <> '' THEN ' IDENTITY' ELSE '' END
       || coalesce(' DEFAULT ' || pg_get_expr(d.adbin, d.adrelid), '')
  FROM c
  JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
  LEFT JOIN pg_attrdef d ON d.adrelid = c.oid AND d.adnum = a.attnum
UNION ALL
SELECT c.relname, 'rule', r.conname, pg_get_constraintdef(r.oid)
  FROM c
  JOIN pg_constraint r ON r.conrelid = c.oid AND r.contype IN ('c', 'f', 'p', 'u', 'x')
UNION ALL
SELECT c.relname, 'index', i.relname,
       pg_get_indexdef(x.indexrelid) || CASE WHEN x.indisvalid THEN '' ELSE ' INVALID' END
  FROM c
  JOIN pg_index x ON x.indrelid = c.oid
  JOIN pg_class i ON i.oid = x.indexrelid
 WHERE NOT EXISTS
       (SELECT FROM pg_constraint r WHERE r.conindid = i.oid AND r.contype IN ('p', 'u', 'x'))
"""

# An index's name and table are told beside its definition, and not again in it.
INDEX = re.compile(r"CREATE (UNIQUE )?INDEX \S+ ON \S+ (.*)", re.DOTALL)
PIECE = re.compile(r"""'[^']*'|"[^"]*"|[(),]|[^'"(),]+""")
NAMED = re.compile(r'(CONSTRAINT )?(?!(?:UNIQUE|CHECK|PRIMARY|FOREIGN)\b)"?(\w+)"? (.*)')


class SchemaPart(NamedTuple):
    """A column, rule or index of ``table``; ``definition`` is in the database's own words."""

    table: str
    kind: str
    name: str
    definition: str


def read_parts(connection: BaseDatabaseWrapper) -> list[SchemaPart]:
    """Every part of every table there."""
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(PARTS)
            found = [SchemaPart(*row) for row in cursor]
        else:
            cursor.execute(STATEMENTS)
            found = [part for row in cursor for part in _of_statement(SchemaPart(*row))]
    return [_index(part) if part.kind == "index" else part for part in found]


def _index(part: SchemaPart) -> SchemaPart:
    """A unique one is a rule: it decides which rows there can be."""
    match = INDEX.fullmatch(part.definition)
    if match is None:
        raise ValueError(f"This is no index: {part.definition}")
    unique, rest = match.groups()
    return part._replace(kind="rule" if unique else "index", definition=(unique or "") + rest)


def _of_statement(made: SchemaPart) -> Iterator[SchemaPart]:
    """The parts of what a statement of SQLite made: one index, or the lines of a table."""
    if made.kind == "index":
        yield made
        return
    for line in _lines(made.definition):
        named = NAMED.fullmatch(line)
        if named is None:
            yield SchemaPart(made.table, "rule", "", line)
        else:
            kind = "rule" if named[1] else "column"
            yield SchemaPart(made.table, kind, named[2], named[3])


def _lines(statement: str) -> Iterator[str]:
    """What stands between the outermost brackets, parted at its commas."""
    depth, line = 0, ""
    for piece in PIECE.findall(statement[statement.index("(") + 1 : statement.rindex(")")]):
        if piece == "," and depth == 0:
            yield " ".join(line.split())
            line = ""
        else:
            depth += {"(": 1, ")": -1}.get(piece, 0)
            line += piece
    yield " ".join(line.split())
