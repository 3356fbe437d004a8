"""``manage.py demo``: an invented circle to look at and to try things on."""

from django.conf import settings
from django.core.management import BaseCommand, CommandError
from django.utils import timezone

from drives.demo import load, people


class Command(BaseCommand):
    help = "Fill the site, once, with an invented circle in the middle of its work."

    def handle(self, **options: object) -> None:
        if settings.PRODUCTION:
            raise CommandError(
                "The demo's password is known to everybody, so it is never put into production: "
                "unset MITREWISE_PRODUCTION to try it, with another database."
            )
        if not load(timezone.now()):
            self.stdout.write("The demo is here already; nothing was changed.")
        settings.LOGINS_FILE.write_text(people.logins(), encoding="utf-8")
