"""The rules that the database itself keeps: are they all there, and does every row keep them?

A database that was restored, copied or repaired by hand may have lost either.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from django.apps import apps
from django.db import IntegrityError, connection
from django.db.models import (
    BooleanField,
    CheckConstraint,
    Count,
    ExpressionWrapper,
    Model,
    Q,
    QuerySet,
    UniqueConstraint,
)
from django.db.models.functions import Coalesce

from drives.models import Claim, Square

from .finding import Finding


def audit_rules() -> Iterator[Finding]:
    """Every constraint of our tables that is missing or broken, by its name."""
    try:
        connection.check_constraints()
    except IntegrityError as problem:
        yield Finding("database", str(problem))
    for app in ("accounts", "drives"):
        for model in apps.get_app_config(app).get_models():
            yield from _missing(model)
            for constraint in model._meta.constraints:
                if isinstance(constraint, CheckConstraint):
                    yield from _broken(model, constraint)
                elif isinstance(constraint, UniqueConstraint):
                    condition = constraint.condition or Q()
                    yield from _repeated(model, constraint.fields, condition, constraint.name)
            for field in model._meta.fields:
                if field.unique and not field.primary_key:
                    yield from _repeated(model, (field.name,), Q(), f"one {field.name} each")


def _missing(model: type[Model]) -> Iterator[Finding]:
    table = model._meta.db_table
    with connection.cursor() as cursor:
        present = connection.introspection.get_constraints(cursor, table)
    for constraint in model._meta.constraints:
        if constraint.name not in present:
            yield Finding(f"table {table}", f"the rule {constraint.name} is missing.")


def _broken(model: type[Model], rule: CheckConstraint) -> Iterator[Finding]:
    rule_itself: Any = rule.condition
    condition = ExpressionWrapper(rule_itself, BooleanField())
    # As in the database: a rule that cannot be decided because of a null is not broken.
    kept = Coalesce(condition, True, output_field=BooleanField())
    for row in _rows(model).annotate(kept=kept).filter(kept=False):
        yield Finding(_where(row), f"breaks the rule {rule.name}.")


def _repeated(
    model: type[Model], fields: Sequence[str], condition: Q, rule: str
) -> Iterator[Finding]:
    filled = Q(**{f"{field}__isnull": False for field in fields})
    groups = _rows(model).filter(condition, filled).order_by().values(*fields)
    for group in groups.annotate(times=Count("pk")).filter(times__gt=1):
        times = group.pop("times")
        first = _rows(model).filter(condition, **group).first()
        assert first is not None
        yield Finding(_where(first), f"breaks the rule {rule}: there are {times} of it.")


def _rows(model: type[Model]) -> QuerySet[Any]:
    rows = model._base_manager.order_by("pk")
    return rows.select_related("square") if model is Claim else rows


def _where(row: Model) -> str:
    match row:
        case Square():
            return f"blanket {row.blanket_id}, {row}"
        case Claim():
            return f"blanket {row.square.blanket_id}, {row.square}"
        case _:
            return f"{row._meta.verbose_name} {row.pk}"
