"""Whether the tables are as the models would make them today.

The list of migrations does not tell: a database that was restored, mended by hand, or made when
a migration still said something else can have every table and a weaker rule.
"""

from collections.abc import Iterator, Sequence, Set

from django.apps import apps
from django.db import connection
from django.db.models import Model

from .catalogue import SchemaPart, read_parts
from .finding import Finding
from .scratch import meant_parts

Parts = dict[tuple[str, str], SchemaPart]


def audit_schema() -> Iterator[Finding]:
    """In a sentence each, in what our tables differ from what the models make."""
    real = read_parts(connection)
    meant, as_restored = meant_parts(connection.alias)
    for app in ("accounts", "drives"):
        for model in apps.get_app_config(app).get_models(include_auto_created=True):
            table = f"table {model._meta.db_table}"
            there, wanted = _of(model, real), _of(model, meant)
            for sentence in _differences(there, wanted, as_restored):
                yield Finding(table, sentence, hides_rows=not _columns(wanted) <= _columns(there))


def _differences(there: Parts, meant: Parts, as_restored: Set[SchemaPart]) -> Iterator[str]:
    if not there:
        yield "it is missing."
        return
    for key, part in meant.items():
        if key not in there:
            yield f"the {_called(part)} is missing."
        elif there[key].definition != part.definition and there[key] not in as_restored:
            yield (
                f"the {_called(part)} is not as it should be: "
                f"{there[key].definition} instead of {part.definition}."
            )
    for key, part in there.items():
        # An index that somebody added for speed harms nobody.
        if key not in meant and part.kind != "index":
            yield f"the {_called(part)} should not be there: {part.definition}."


def _of(model: type[Model], parts: Sequence[SchemaPart]) -> Parts:
    """The parts of one table. A name that the database chose tells nothing; what it says does."""
    rules = {rule.name for rule in (*model._meta.constraints, *model._meta.indexes)}
    known = {}
    for part in parts:
        if part.table == model._meta.db_table:
            by_name = part.kind == "column" or part.name in rules
            known[part.kind, part.name if by_name else part.definition] = part
    return known


def _columns(parts: Parts) -> set[str]:
    return {name for kind, name in parts if kind == "column"}


def _called(part: SchemaPart) -> str:
    return f"{part.kind} {part.name or part.definition}"
