"""Whether everything that must never be false is true, over the whole database.

It trusts nothing that the actions keep: every count and state is worked out again from the
layout, the claims and the log.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction

from drives.models import Blanket

from . import circles, letters, rules, schema, yarns
from .blankets import audit_blanket
from .finding import Finding

__all__ = ["Finding", "audit"]


def audit() -> Iterator[Finding]:
    """Everything that is wrong, part by part, each part as it is at one moment."""
    with _one_moment():
        tables = list(schema.audit_schema())
    yield from tables
    if any(finding.hides_rows for finding in tables):
        yield Finding(
            "rows",
            "none was looked at, as tables or columns are missing. Restore a whole backup into an "
            "empty place, then audit again.",
        )
        return
    with _one_moment():
        yield from rules.audit_rules()
    with _one_moment():
        yield from circles.audit_circles()
        yield from letters.audit_letters()
    with _one_moment():
        yield from yarns.audit_yarns()
    for pk in Blanket.objects.values_list("pk", flat=True):
        with _one_moment():
            blanket = Blanket.objects.select_related("drive").filter(pk=pk).first()
            if blanket is not None:
                yield from audit_blanket(blanket)


@contextmanager
def _one_moment() -> Iterator[None]:
    """All queries inside see the database as the first of them did, whoever writes meanwhile.

    SQLite sees to that by keeping other writers waiting for so long.
    """
    outermost = not connection.in_atomic_block
    with transaction.atomic():
        if outermost and connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
        yield
