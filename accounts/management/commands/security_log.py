"""Reads out what is noted about sign-ins, keys, roles and removals."""

from argparse import ArgumentParser
from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from accounts.models import SecurityEvent, SecurityKind


class Command(BaseCommand):
    help = "The security log, the newest last: failed sign-ins, keys, passwords, roles, removals."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """What to leave out."""
        parser.add_argument("--days", type=int, default=7, help="how far back (7)")
        parser.add_argument("--kind", choices=SecurityKind.values, help="only these")
        parser.add_argument("--person", type=int, help="only about this person, by id")

    def handle(self, *, days: int, kind: str | None, person: int | None, **options: Any) -> None:
        """One line each, in UTC."""
        events = SecurityEvent.objects.filter(at__gte=timezone.now() - timedelta(days=days))
        events = events.filter(kind=kind) if kind else events
        events = events.filter(about=person) if person else events
        for event in events.order_by("id"):
            facts = " ".join(f"{name}={value}" for name, value in event.facts.items())
            whose = f"person={event.about_id or '-'} address={event.address or '-'}"
            line = f"{event.at:%Y-%m-%d %H:%M:%S} {event.kind:16} {whose} {facts}"
            self.stdout.write(line.rstrip())
