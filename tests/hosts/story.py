"""What a story of two hosts needs in its database: ``python -m tests.hosts.story begin|weekly``.

Its database and queue are those that the environment names.
"""

import sys
from zoneinfo import ZoneInfo

import django


def begin() -> None:
    """The tables, the cast, and a drive that waits for blankets, whose id is printed."""
    from django.core.management import call_command
    from django.utils import timezone

    from tests.cast import make_cast
    from tests.desk import new_drive

    call_command("migrate", verbosity=0)
    cast = make_cast(timezone.now())
    print(new_drive(cast.olga).pk)  # noqa: T201


def weekly() -> None:
    """It is Saturday: what the clock does then for Cora, Olga and Vera, who want the sheets.

    And what it does each minute, as soon as the workers have made them.
    """
    from django.utils import timezone

    from accounts.models import Member
    from drives.actions.circles.letters import choose_letters, queue_letter
    from drives.actions.paper.sheets import request_sheet
    from drives.letters.schedule import unfinished_in
    from drives.letters.tasks import send_letters
    from drives.models import Options, Sheet, Status, Subject
    from drives.sheets.kinds import STATUS
    from tests.shared.site import eventually

    now = timezone.now()
    readers = list(Member.objects.filter(name__in=["Cora", "Olga", "Vera"]).order_by("name"))
    circle = readers[0].circle
    sheets = [
        request_sheet(
            blanket=blanket, by=readers[0], kind=STATUS, options=Options(paper="A4").stored(),
            now=now, in_batch=True,
        )
        for blanket in unfinished_in(circle)
    ]  # fmt: skip
    about = timezone.localdate(now, ZoneInfo(circle.time_zone)).isoformat()
    for member in readers:
        choose_letters(member=member, subject=Subject.WEEKLY, wanted=True)
        queue_letter(member=member, subject=Subject.WEEKLY, about=about, sheets=sheets, now=now)
    asked = Sheet.objects.filter(pk__in=[sheet.pk for sheet in sheets])
    eventually(lambda: not asked.exclude(status=Status.DONE).exists(), 90)
    send_letters()


if __name__ == "__main__":
    django.setup()
    {"begin": begin, "weekly": weekly}[sys.argv[1]]()
