"""``manage.py deploy_check``: what is missing before the site can be served for people?"""

import sys

from django.core.management import BaseCommand, CommandParser

from shared import needs


class Command(BaseCommand):
    help = "Say what the site lacks, and what to do: a sentence each. Nothing is changed."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--running",
            action="store_true",
            help="only what is quickly told, as /health/ready/ does: for whatever watches over us",
        )
        parser.add_argument(
            "--before-start",
            action="store_true",
            help="leave out the proxy, which can be asked only while the site runs",
        )

    def handle(self, *, running: bool, before_start: bool, **options: object) -> None:
        wanted = {**needs.QUICK} if running else {**needs.AT_LEISURE, **needs.QUICK}
        if before_start:
            wanted.pop("proxy", None)
        missing = needs.missing(wanted)
        for name, sentences in missing.items():
            for sentence in sentences:
                self.stdout.write(f"{name}: {sentence}")
        if any(missing.values()):
            sys.exit(1)
        self.stdout.write("Nothing is missing.")
