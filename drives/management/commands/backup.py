"""``manage.py backup FILE``: the whole site into one file, while it is served."""

from pathlib import Path

from django.core.management import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from shared import backup


class Command(BaseCommand):
    help = "Write every row and file of the site into one new file; it may be served meanwhile."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="where to; a tar file")

    def handle(self, *, file: Path, **options: object) -> None:
        try:
            kept = backup.write(file, now=timezone.now())
        except backup.BackupProblem as problem:
            raise CommandError(str(problem)) from problem
        self.stdout.write(
            f"{file}: {kept.rows} rows of {len(kept.tables)} tables, {len(kept.files)} files."
        )
        for name in kept.gone:
            self.stdout.write(f"The file {name} had gone before it could be read.")
