"""Making an e-mail of a letter, when it is sent."""

from collections.abc import Callable
from datetime import datetime

from django.core.mail import EmailMessage
from django.template.loader import render_to_string
from django.utils import timezone, translation

from drives.actions.circles.letters import gets_letter, off_link
from drives.models import Letter, Subject

from .content import Content, address
from .found import found
from .monday import monday
from .reminders import due_soon, late
from .weekly import weekly

CONTENTS: dict[str, tuple[str, Callable[[Letter, datetime], Content | None]]] = {
    Subject.DUE_SOON: ("due_soon", due_soon),
    Subject.LATE: ("late", late),
    Subject.WEEKLY: ("weekly", weekly),
    Subject.MONDAY: ("monday", monday),
    Subject.FOUND: ("found", found),
}
"""The template of each subject, and what gathers the facts for it."""


def compose(letter: Letter, now: datetime) -> EmailMessage | None:
    """The e-mail; None when there is nothing to say any more, or nobody who wants to hear it.

    In the words and by the clock of the circle. The first line of the template
    is the e-mail's subject.
    """
    member = letter.member
    circle = member.circle
    if member.user is None or not gets_letter(member, letter.subject):
        return None
    template, gather = CONTENTS[letter.subject]
    with translation.override(circle.locale), timezone.override(circle.time_zone):
        content = gather(letter, now)
        if content is None:
            return None
        off = off_link(member, letter.subject)
        choose = address("letters", circle.pk)
        facts = {"member": member, "circle": circle, "off": off, "choose": choose, **content.facts}
        text = render_to_string(f"drives/mail/{template}.txt", facts)
    heading, body = text.split("\n", 1)
    message = EmailMessage(
        " ".join(heading.split()),
        body.strip() + "\n",
        to=[member.user.email],
        # RFC 8058: a mail program may turn it off for its reader; RFC 3834: no machine answers.
        headers={
            "List-Unsubscribe": f"<{off}>",
            "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",
            "Auto-Submitted": "auto-generated",
        },
    )
    for name, made in content.files:
        message.attach(name, made, "application/pdf")
    message.message()  # what cannot be written down fails here, before anything is sent
    return message
