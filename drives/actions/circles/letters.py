"""Letters: who wants which, and the life of their rows until they are sent."""

from collections.abc import Collection
from datetime import datetime

from django.conf import settings
from django.core.signing import BadSignature, Signer
from django.db.models import Exists, OuterRef, Q
from django.urls import reverse

from accounts.models import Member, PostedQuerySet, User
from accounts.models.member import MemberQuerySet
from drives.actions.log import circle_day
from drives.models import Claim, FinderNote, Letter, Sheet, Status, Subject, Subscription
from drives.models.letter import FOR_COORDINATORS, ONLY_IF_WANTED
from shared.basics.transactions import writing
from shared.workers.queue import tell_workers

# By name: the task lives in a room above this one.
MAIL = "drives.letters.tasks.mail_letter"

_SIGNER = Signer(sep=".", salt="drives.letters")


def readers(subject: str) -> MemberQuerySet:
    """Whom the site writes to about ``subject``: they want it, at an address that is theirs."""
    return willing(subject).filter(user__in=User.objects.reachable())


def willing(subject: str) -> MemberQuerySet:
    """Who wants to hear about ``subject``: present, with a login, and they have not said no."""
    said = Subscription.objects.filter(member=OuterRef("pk"), subject=subject)
    people = Member.objects.present().filter(user__is_active=True)
    if subject in FOR_COORDINATORS:
        people = people.filter(Q(is_organiser=True) | Q(is_coordinator=True))
    if subject in ONLY_IF_WANTED:
        return people.filter(Exists(said.filter(wanted=True)))
    return people.filter(~Exists(said.filter(wanted=False)))


def wants_letter(member: Member, subject: str) -> bool:
    """Whether ``member`` has chosen to be written to about ``subject``."""
    return willing(subject).filter(pk=member.pk).exists()


def gets_letter(member: Member, subject: str) -> bool:
    """Whether the site may write to ``member`` about ``subject`` now."""
    return readers(subject).filter(pk=member.pk).exists()


def choose_letters(*, member: Member, subject: str, wanted: bool) -> None:
    """From now on letters about ``subject``, or none. A matter of their own: it writes no event."""
    with writing():
        Subscription.objects.bulk_create(
            [Subscription(member=member, subject=subject, wanted=wanted)],
            update_conflicts=True,
            unique_fields=["member", "subject"],
            update_fields=["wanted"],
        )


def queue_letter(
    *,
    member: Member,
    subject: str,
    about: str,
    now: datetime,
    claim: Claim | None = None,
    note: FinderNote | None = None,
    sheets: Collection[Sheet] = (),
) -> bool:
    """Have it written in this transaction's name; True when it is new.

    The same member, subject and ``about`` make one letter, ever. None for who does not get any.
    """
    with writing():
        if not gets_letter(member, subject):
            return False
        letter, new = Letter.objects.get_or_create(
            member=member,
            subject=subject,
            about=about,
            defaults={"claim": claim, "note": note, "queued_at": now, "not_before": now},
        )
        if new:
            letter.sheets.set(sheets)
            tell_workers(MAIL, letter_id=letter.pk)
    return new


def queue_found(*, note: FinderNote, now: datetime) -> None:
    """Have the coordinators told that a finder has left ``note``."""
    for member in readers(Subject.FOUND).filter(circle=note.code.blanket.drive.circle_id):
        queue_letter(member=member, subject=Subject.FOUND, about=str(note.pk), note=note, now=now)


def ready_letters(now: datetime) -> PostedQuerySet:
    """Those that can be sent now; one waits until its sheets are done, or have failed."""
    being_made = Sheet.objects.filter(status__in=[Status.QUEUED, Status.RENDERING])
    unmade = Letter.sheets.through.objects.filter(letter=OuterRef("pk"), sheet__in=being_made)
    return Letter.objects.to_send(now).filter(~Exists(unmade))


def forget_old_letters(*, before: datetime) -> int:
    """Remove letters that were queued before then, and say how many."""
    with writing():
        old = Letter.objects.filter(queued_at__lt=before)
        count = old.count()
        old.delete()
    return count


def about_claim(claim: Claim) -> str:
    """What a letter about the claim is ``about``: with each due day it is another one."""
    return f"{claim.pk} {circle_day(claim.square.blanket, claim.due_at)}"


def off_link(member: Member, subject: str) -> str:
    """The address where the reader turns this kind of letter off, without signing in."""
    signed = _SIGNER.sign_object([member.pk, str(subject)])
    return settings.SITE_URL + reverse("drives:letters_off", args=[signed])


def reader_in(signed: str) -> tuple[int, Subject | None] | None:
    """The member's id and the subject that a link was made of; None where it is not ours.

    Links outlive what they are about: the subject is None where the site has it no more.
    """
    try:
        member_id, subject = _SIGNER.unsign_object(signed)
    except BadSignature:
        return None
    return member_id, Subject(subject) if subject in Subject.values else None
