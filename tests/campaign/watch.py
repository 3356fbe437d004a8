"""Looks at the rows all the time, each time as they are at one moment."""

import threading
import time
from collections import Counter
from collections.abc import Iterator

from django.db import DatabaseError, close_old_connections, connection, transaction

from drives.audit import audit
from drives.models import Claim, Square, StoredState

from .world import Quilt

EVERY_SECONDS = 0.2
AUDIT_EVERY_SECONDS = 20.0


class Watch(threading.Thread):
    """``wrong`` is what it has found, ``looks`` and ``audits`` how often it looked."""

    def __init__(self, quilts: list[Quilt]) -> None:
        super().__init__(name="watch")
        self._over = threading.Event()
        self.wrong: list[str] = []
        self.looks = self.audits = 0
        self._stands_on = {quilt.pk: _stands_on(quilt.pk) for quilt in quilts if not quilt.changes}

    def run(self) -> None:
        audited = time.monotonic()
        while not self._over.wait(EVERY_SECONDS):
            try:
                self.wrong += self._look()
                self.looks += 1
                if time.monotonic() - audited > AUDIT_EVERY_SECONDS:
                    self.wrong += [f"audit: {finding}" for finding in audit()]
                    self.audits += 1
                    audited = time.monotonic()
            except DatabaseError:  # it is away just now, which is one of the faults
                connection.close()
            close_old_connections()
        connection.close()

    def end(self) -> None:
        self._over.set()
        self.join()

    def _look(self) -> Iterator[str]:
        with transaction.atomic():
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            squares = list(Square.objects.order_by("pk"))
            held = Counter(Claim.objects.open().values_list("square_id", flat=True))
        state = {(square.blanket_id, str(square)): square.state for square in squares}
        for square in squares:
            where = f"blanket {square.blanket_id}, {square}"
            if held[square.pk] != (square.state == StoredState.TAKEN):
                yield f"{where}: {square.state}, and {held[square.pk]} hold it"
            if square.state != StoredState.OPEN:
                under = self._stands_on.get(square.blanket_id, {}).get(str(square), ())
                for support in under:
                    if state[square.blanket_id, support] != StoredState.FINISHED:
                        yield f"{where}: {square.state} on unfinished {support}"


def _stands_on(blanket: int) -> dict[str, list[str]]:
    from drives.models import Blanket

    plan = Blanket.objects.get(pk=blanket).plan()
    return {str(place): [*map(str, plan.stands_on[place])] for place in plan.places}
