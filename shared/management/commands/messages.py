"""``manage.py messages``: the messages of the code into the catalogues, and those compiled.

A catalogue (``shared/locale/…/django.po``) holds every message of the code. One without a
translation is said as it stands in the code: in American English that is meant, and only what
Americans say or spell otherwise is translated.
"""

import gettext
import shutil
import subprocess
import sys
import tempfile
from argparse import ArgumentParser
from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.core.management.commands import makemessages

SOURCES = ("accounts", "drives", "shared", "templates")
CATALOGUES = "shared/locale/*/LC_MESSAGES/django.po"


class Extract(makemessages.Command):
    """Nothing is guessed: a message that is new is a message without a translation."""

    msgmerge_options = [*makemessages.Command.msgmerge_options, "--no-fuzzy-matching"]


class Command(BaseCommand):
    help = "Extracts the messages of the code into the catalogues and compiles them."
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--check", action="store_true", help="Only say what it would change; 1 if anything."
        )

    def handle(self, *, check: bool, **options: object) -> None:
        if not check:
            renew(Path(settings.BASE_DIR))
            return
        with tempfile.TemporaryDirectory() as made:
            for source in SOURCES:
                shutil.copytree(settings.BASE_DIR / source, Path(made, source))
            shutil.copy(settings.BASE_DIR / "manage.py", made)
            done = subprocess.run(
                [sys.executable, "manage.py", "messages"], cwd=made, capture_output=True, text=True
            )
            if done.returncode:
                raise CommandError(done.stderr)
            wrong = [
                line
                for there in sorted(Path(made).glob(CATALOGUES))
                for line in differences(settings.BASE_DIR / there.relative_to(made), there)
            ]
        if wrong:
            raise CommandError("\n".join([*wrong, "Run ./dev messages and translate what is new."]))


def renew(folder: Path) -> None:
    """Write the catalogues of the project in ``folder`` anew, ``.po`` and ``.mo``.

    CommandError where a translation has other placeholders than its message.
    """
    Extract().run_from_argv(
        [
            *("manage.py", "makemessages", "--all", "--no-obsolete", "--no-wrap"),
            *("--add-location=file", "--ignore=.*", "--ignore=tests", "--verbosity=0"),
        ]
    )
    for catalogue in folder.glob(CATALOGUES):
        lines = catalogue.read_text(encoding="utf-8").splitlines(keepends=True)
        # When it was done says nothing, and would be another difference each time.
        kept = [line for line in lines if not line.startswith('"POT-Creation-Date:')]
        catalogue.write_text("".join(kept), encoding="utf-8")
        compiled = catalogue.with_suffix(".mo")
        done = subprocess.run(
            ["msgfmt", "--check", "-o", compiled, catalogue], capture_output=True, text=True
        )
        if done.returncode:
            raise CommandError(done.stderr)


def differences(kept: Path, renewed: Path) -> list[str]:
    """What a catalogue that is kept has other than one that was made anew, line by line."""
    if not kept.exists():
        return [f"{kept} is missing."]
    before, after = _entries(kept), _entries(renewed)
    wrong = [f"{kept}: no such message in the code:\n{entry}" for entry in sorted(before - after)]
    wrong += [f"{kept}: this message is missing:\n{entry}" for entry in sorted(after - before)]
    wrong += [f"{kept}: nobody has looked at:\n{entry}" for entry in before if ", fuzzy" in entry]
    if not wrong and _compiled(kept) != _compiled(renewed):
        wrong.append(f"{kept.with_suffix('.mo')} is not what its .po says.")
    return wrong


def _entries(catalogue: Path) -> set[str]:
    """The entries without where they stand in the code, so that code may be moved."""
    return {
        "\n".join(line for line in entry.splitlines() if not line.startswith("#:"))
        for entry in catalogue.read_text(encoding="utf-8").strip().split("\n\n")
    }


def _compiled(catalogue: Path) -> dict[object, str] | None:
    try:
        with catalogue.with_suffix(".mo").open("rb") as file:
            return vars(gettext.GNUTranslations(file))["_catalog"]  # type: ignore[no-any-return]
    except OSError:
        return None
