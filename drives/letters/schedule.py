"""Which letters are due, by each circle's own clock.

What a day's clock has missed it makes up until midnight; another day's is not made up.
"""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef
from django.utils.timezone import localtime

from accounts.models import Circle, Member
from accounts.models.member import MemberQuerySet
from drives.actions.circles.letters import about_claim, queue_letter, readers
from drives.actions.paper.sheets import request_sheet
from drives.actions.squares.claims import remind_knitter
from drives.craft.knitter import English
from drives.models import Blanket, Claim, Letter, Options, Paper, Square, StoredState, Subject
from drives.models.claim import ClaimQuerySet
from drives.sheets.kinds import STATUS
from shared.basics.days import DAY, begins, ends

DAYTIME = range(8, 20)  # hours in which somebody is reminded of a square
DUE_IN = 2 * DAY
MONDAY, SATURDAY = 0, 5
MONDAY_FROM, SATURDAY_FROM = 7, 8  # hours


def queue_due(now: datetime) -> None:
    """Queue every letter that is due now and not queued yet."""
    for name in Circle.objects.order_by().values_list("time_zone", flat=True).distinct():
        zone = ZoneInfo(name)
        local = localtime(now, zone)
        if local.hour in DAYTIME:
            _due_soon(zone, local.date(), now)
            _late(zone, now)
        if local.weekday() == SATURDAY and local.hour >= SATURDAY_FROM:
            _weekly(zone, local.date(), now)
        if local.weekday() == MONDAY and local.hour >= MONDAY_FROM:
            _monday(zone, local.date(), now)


def _due_soon(zone: ZoneInfo, today: date, now: datetime) -> None:
    """Two days ahead; who took the square only today knows when it is due."""
    then = today + DUE_IN
    due = _claims(zone).filter(
        member__in=readers(Subject.DUE_SOON), taken_at__lt=begins(today, zone)
    )
    due = due.filter(due_at__gte=begins(then, zone), due_at__lte=ends(then, zone))
    claims = {about_claim(claim): claim for claim in due}
    queued = Letter.objects.filter(subject=Subject.DUE_SOON, about__in=claims)
    for about in claims.keys() - set(queued.values_list("about", flat=True)):
        claim = claims[about]
        queue_letter(
            member=claim.member, subject=Subject.DUE_SOON, about=about, claim=claim, now=now
        )


def _late(zone: ZoneInfo, now: datetime) -> None:
    """Once for each due date, as long as the days of grace are not over."""
    late = _claims(zone).overdue(now).filter(reminded_at=None)
    for claim in late.filter(member__in=readers(Subject.LATE)):
        if claim.lapses_at > now:
            remind_knitter(claim=claim, now=now)


def _weekly(zone: ZoneInfo, today: date, now: datetime) -> None:
    """The status sheets of all that is unfinished; the first who wants them asks for them."""
    about = today.isoformat()
    people: dict[Circle, list[Member]] = {}
    for member in _unwritten(zone, Subject.WEEKLY, about):
        people.setdefault(member.circle, []).append(member)
    for circle, members in people.items():
        american = circle.english == English.AMERICAN
        options = Options(paper=Paper.LETTER if american else Paper.A4).stored()
        sheets = [
            request_sheet(
                blanket=blanket, by=members[0], kind=STATUS, options=options, now=now,
                in_batch=True, by_itself=True,
            )
            for blanket in unfinished_in(circle)
        ]  # fmt: skip
        for member in members if sheets else ():
            queue_letter(member=member, subject=Subject.WEEKLY, about=about, sheets=sheets, now=now)


def _monday(zone: ZoneInfo, today: date, now: datetime) -> None:
    """Whether there is anything to tell is seen when it is written."""
    about = today.isoformat()
    for member in _unwritten(zone, Subject.MONDAY, about):
        queue_letter(member=member, subject=Subject.MONDAY, about=about, now=now)


def unfinished_in(circle: Circle) -> list[Blanket]:
    """The circle's blankets with squares still to knit, each with its drive and circle."""
    left = Square.objects.filter(blanket=OuterRef("pk")).exclude(state=StoredState.FINISHED)
    blankets = Blanket.objects.filter(Exists(left), drive__circle=circle)
    return list(blankets.select_related("drive__circle"))


def _claims(zone: ZoneInfo) -> ClaimQuerySet:
    open_ones = Claim.objects.open().filter(square__blanket__drive__circle__time_zone=zone.key)
    return open_ones.select_related("member", "square__blanket__drive__circle")


def _unwritten(zone: ZoneInfo, subject: Subject, about: str) -> MemberQuerySet:
    written = Letter.objects.filter(member=OuterRef("pk"), subject=subject, about=about)
    people = readers(subject).filter(~Exists(written), circle__time_zone=zone.key)
    return people.select_related("circle").order_by("pk")
