"""``manage.py circles``: which circles are closed, and opening one again."""

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from accounts import actions
from accounts.models import Circle


class Command(BaseCommand):
    help = "List the closed circles, until they are removed; or open one again (--reopen, --for)."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Nothing to list them."""
        parser.add_argument("--reopen", type=int, metavar="ID", help="the circle to open again")
        parser.add_argument(
            "--for",
            dest="email",
            help="the address of a former member, who organises it from now on",
        )

    def handle(self, *, reopen: int | None, email: str | None, **options: Any) -> None:
        """One line each."""
        closed = Circle.objects.exclude(closed_at=None)
        if reopen is None:
            for each in closed.order_by("closed_at"):
                until = each.closed_at + settings.KEPT["circles"] if each.closed_at else None
                self.stdout.write(f"{each.pk}: {each.name}, removed after {until:%Y-%m-%d}")
            return
        circle = closed.filter(pk=reopen).first()
        if circle is None:
            raise CommandError(f"No closed circle has the number {reopen}.")
        member = circle.members.filter(user__email__iexact=email or "").first()
        if member is None:
            raise CommandError(
                "Name with --for the e-mail address of a former member: they will organise it."
            )
        actions.reopen_circle(circle=circle, organiser=member, now=timezone.now())
        self.stdout.write(f"{circle.name} is open again, and {member} organises it.")
