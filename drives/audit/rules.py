"""The rules that the database itself keeps: does every row keep them?

Rows may have come in while a rule was lost or asleep.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from django.apps import apps
from django.db import IntegrityError, connection
from django.db.models import (
    BaseConstraint,
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

from .finding import Finding, where


def audit_rules() -> Iterator[Finding]:
    """Every row of our tables that breaks a rule, by the rule's name."""
    try:
        connection.check_constraints()
    except IntegrityError as problem:
        yield Finding("database", str(problem))
    for app in ("accounts", "drives"):
        for model in apps.get_app_config(app).get_models():
            for constraint in model._meta.constraints:
                yield from _audit_rule(model, constraint)
            for field in model._meta.fields:
                if field.unique and not field.primary_key:
                    yield from _repeated(model, [field.name], Q(), f"one row for each {field.name}")


def _audit_rule(model: type[Model], rule: BaseConstraint) -> Iterator[Finding]:
    if isinstance(rule, CheckConstraint):
        yield from _broken(model, rule)
    elif isinstance(rule, UniqueConstraint):
        yield from _repeated(model, rule.fields, rule.condition or Q(), rule.name)


def _broken(model: type[Model], rule: CheckConstraint) -> Iterator[Finding]:
    rule_itself: Any = rule.condition
    condition = ExpressionWrapper(rule_itself, BooleanField())
    # As in the database: a rule that cannot be decided because of a null is not broken.
    kept = Coalesce(condition, True, output_field=BooleanField())
    for row in _rows(model).annotate(kept=kept).filter(kept=False):
        yield Finding(where(row), f"breaks the rule {rule.name}.")


def _repeated(
    model: type[Model], fields: Sequence[str], condition: Q, rule: str
) -> Iterator[Finding]:
    filled = Q(**{f"{field}__isnull": False for field in fields})
    groups = _rows(model).filter(condition, filled).order_by().values(*fields)
    for group in groups.annotate(times=Count("pk")).filter(times__gt=1):
        times = group.pop("times")
        first = _rows(model).filter(condition, **group).first()
        assert first is not None
        yield Finding(where(first), f"breaks the rule {rule}: there are {times} of it.")


def _rows(model: type[Model]) -> QuerySet[Any]:
    return model._base_manager.order_by("pk")
