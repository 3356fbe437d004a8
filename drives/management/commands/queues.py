"""``manage.py queues``: what waits for a worker, and since when."""

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from drives.readings.waiting import done, waiting


class Command(BaseCommand):
    help = "What waits for a worker and since when, and how earlier work ended."

    def handle(self, *args: Any, **options: Any) -> None:
        """From the rows, which are the truth about it."""
        now = timezone.now()
        for each in waiting(now):
            seconds = max((now - each.since).total_seconds(), 0) if each.since else 0
            oldest = f", the oldest for {seconds:.0f} s" if each.since else ""
            self.stdout.write(f"{each.work}: {each.many} waiting{oldest}")
        for work, outcome, count in done():
            self.stdout.write(f"{work}: {count} {outcome}")
