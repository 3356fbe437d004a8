"""``manage.py audit``: is everything true that must never be false?"""

import sys

from django.core.management import BaseCommand

from drives.audit import audit


class Command(BaseCommand):
    help = "Check every invariant over the whole database: silent, or a line for each break."

    def handle(self, **options: object) -> None:
        broken = False
        for finding in audit():
            broken = True
            self.stdout.write(str(finding))
        if broken:
            sys.exit(1)
