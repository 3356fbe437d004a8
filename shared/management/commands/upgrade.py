"""``manage.py upgrade``: what a new version of the program asks for, with no request refused."""

import os
import signal
import time

from django.conf import settings
from django.core.management import BaseCommand, CommandError, call_command

from shared.needs import quick
from shared.serving.running import running

# A worker may finish what it is at, then all start anew.
PATIENCE_SECONDS = 120.0


class Command(BaseCommand):
    help = "Migrate, collect the static files, and renew the site that runs on this data folder."

    def handle(self, **options: object) -> None:
        for sentence in quick.database():
            raise CommandError(sentence)
        call_command("migrate", interactive=False, verbosity=0)
        self.stdout.write("The database is up to date.")
        if settings.PRODUCTION:
            call_command("collectstatic", interactive=False, verbosity=0)
            self.stdout.write("The static files are collected.")
        before = running()
        if not before:
            self.stdout.write("No site runs on this data folder: there is nothing to renew.")
            return
        for process in before:
            os.kill(process, signal.SIGUSR1)
        self._wait_until_renewed(before)
        self.stdout.write("The site runs anew.")

    def _wait_until_renewed(self, before: dict[int, str]) -> None:
        deadline = time.monotonic() + PATIENCE_SECONDS
        waited_for = set(before)
        while waited_for:
            if time.monotonic() > deadline:
                raise CommandError(
                    f"The site has not come back within {PATIENCE_SECONDS:.0f} seconds. "
                    "Its log says why. Meanwhile, visitors wait."
                )
            now = running()
            waited_for = {p for p in waited_for if now.get(p, "") in ("", before[p])}
            time.sleep(0.1)
