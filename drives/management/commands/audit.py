"""``manage.py audit``: is everything true that must never be false?"""

import sys

from django.core.management import BaseCommand, CommandError
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from drives.audit import audit


class Command(BaseCommand):
    help = "Check every invariant over the whole database: silent, or a line for each break."

    def handle(self, **options: object) -> None:
        executor = MigrationExecutor(connection)
        if executor.migration_plan(executor.loader.graph.leaf_nodes()):
            raise CommandError("This database lacks tables or columns; run migrate first.")
        broken = False
        for finding in audit():
            broken = True
            self.stdout.write(str(finding))
        if broken:
            sys.exit(1)
