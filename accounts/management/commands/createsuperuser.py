"""In the place of Django's command, which has no use here."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError


class Command(BaseCommand):
    help = "There are no superusers here."

    def handle(self, *args: Any, **options: Any) -> None:
        """Says what to do instead."""
        raise CommandError(
            "There are no superusers here. Sign up on the site and make a circle, and you organise "
            "it; “./dev manage people” looks after logins."
        )
