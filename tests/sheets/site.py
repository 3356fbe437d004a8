"""A site of its own for real workers: ``python -m tests.sheets.site ask SIZE|sweep``.

Its database, queue and files are those that the environment names.
"""

import sys

import django


def ask(size: str) -> None:
    """Migrate, and ask for a meeting's whole set of a blanket of this size.

    ``crowded`` is 12 × 16 squares with forty people at work, ``small`` one of 4 × 4.
    """
    from django.conf import settings
    from django.core.management import call_command
    from django.utils import timezone

    from drives.actions.paper.documents import request_document
    from drives.craft.layout.layout import Layout
    from drives.models import Options
    from drives.sheets.kinds import SET
    from tests.cast import make_cast
    from tests.desk import new_blanket
    from tests.sheets.crowd import crowded

    # Nobody signs in.
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    call_command("migrate", verbosity=0)
    cast = make_cast()
    if size == "crowded":
        blanket, _held = crowded(cast)
    else:
        blanket = new_blanket(cast.olga, Layout(4, 4, 20))
    options = Options(to_a_page=2)
    request_document(blanket=blanket, by=cast.cora, kind=SET, options=options, now=timezone.now())


def sweep() -> None:
    """What the scheduler does, at a time when every lease of now has run out."""
    from django.utils import timezone

    from drives.actions.paper.sheets import resend_sheets
    from drives.models.sheet import LEASE, MESSAGE_PATIENCE

    resend_sheets(error="", now=timezone.now() + max(LEASE, MESSAGE_PATIENCE))


if __name__ == "__main__":
    django.setup()
    if sys.argv[1] == "ask":
        ask(sys.argv[2])
    else:
        sweep()
