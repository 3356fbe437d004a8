"""A site of its own for real workers: ``python -m tests.sheets.site ask|sweep``.

Its database, queue and files are those that the environment names.
"""

import sys

import django


def ask() -> None:
    """Migrate, plan a blanket that takes a while to draw, and ask for its sheet."""
    from django.core.management import call_command
    from django.utils import timezone

    from drives.craft.layout import Layout
    from tests.cast import make_cast
    from tests.drives.desk import new_blanket
    from tests.sheets.conftest import ask

    call_command("migrate", verbosity=0)
    cast = make_cast()
    ask(new_blanket(cast.olga, Layout(20, 20, 20)), cast, timezone.now())


def sweep() -> None:
    """What the scheduler does, at a time when every lease of now has run out."""
    from django.utils import timezone

    from drives.actions.sheets import LEASE, MESSAGE_PATIENCE, resend_sheets

    resend_sheets(error="", now=timezone.now() + max(LEASE, MESSAGE_PATIENCE))


if __name__ == "__main__":
    django.setup()
    {"ask": ask, "sweep": sweep}[sys.argv[1]]()
