"""A site of its own for a real worker of letters: ``python -m tests.letters.site MAILS|sweep``.

Its database, queue and mail server are those that the environment names. It prints how many mails
are not sent then.
"""

import sys

import django


def ask(number: int) -> None:
    """So many mails, one to each of ``1@example.org`` and so on."""
    from django.core.management import call_command
    from django.utils import timezone

    from accounts.actions import queue_mail

    call_command("migrate", verbosity=0)
    for one in range(1, number + 1):
        queue_mail(to=f"{one}@example.org", heading="Hello", body="Hello", now=timezone.now())


def sweep() -> None:
    """What the scheduler does."""
    from accounts.tasks import send_mails

    send_mails()


def unsent() -> int:
    from accounts.models import Mail

    return Mail.objects.filter(sent_at=None).count()


if __name__ == "__main__":
    django.setup()
    if sys.argv[1] == "sweep":
        sweep()
    else:
        ask(int(sys.argv[1]))
    print(unsent())
