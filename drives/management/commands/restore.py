"""``manage.py restore FILE``: a site in an empty place, as it was when the backup was made."""

from pathlib import Path

from django.core.management import BaseCommand, CommandError, CommandParser, call_command

from drives.actions.paper.sheets import forget_lost_sheets
from shared import backup


class Command(BaseCommand):
    help = "Fill an empty place from a backup, compare every row, migrate if needed, and audit."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="what ./dev backup wrote")

    def handle(self, *, file: Path, **options: object) -> None:
        try:
            kept = backup.restore(file)
        except backup.BackupProblem as problem:
            raise CommandError(str(problem)) from problem
        self.stdout.write(
            f"{kept.rows} rows of {len(kept.tables)} tables and {len(kept.files)} files are "
            f"as they were at {kept.made_at}."
        )
        if kept.gone:
            forget_lost_sheets(kept.gone)
            self.stdout.write(
                f"{len(kept.gone)} files had gone before they could be read. Their documents are "
                "no longer listed, and can be asked for anew."
            )
        # A site of today, from a backup of an earlier one.
        call_command("migrate", verbosity=0)
        call_command("audit")
        self.stdout.write("The audit has nothing to say.")
