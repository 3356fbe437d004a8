"""Rotas are made anew by themselves when something has happened: nobody waits for them."""

from datetime import datetime, timedelta

from django.db.models import Exists, F, Max, OuterRef, Q

from accounts.models import Event, Member, Topic
from drives.actions.paper.sheets import request_sheet
from drives.models import Blanket, Sheet, Square, StoredState
from drives.readings.rota import FRESH, KIND

from .kinds import ROTA

PAUSE = timedelta(minutes=5)  # a blanket's rota is made by itself no more often
MOST_AT_ONCE = 20


def renew_rotas(now: datetime) -> int:
    """Ask for the rota of each blanket that has moved on since the last one; say how many.

    Where nobody has asked so far, of each that somebody has begun to knit lately. Whoever asked for
    the last one counts as asking, or else an organiser; it spends nothing of what they may ask for.
    """
    rotas = Sheet.objects.filter(kind=KIND, blanket=OuterRef("pk")).order_by()
    last = rotas.values("blanket").annotate(last=Max("requested_at")).values("last")
    lately = Event.objects.filter(topic=Topic.BLANKET, topic_id=OuterRef("pk"), at__gt=now - FRESH)
    since = lately.filter(at__gt=OuterRef("asked"))
    left = Square.objects.filter(blanket=OuterRef("pk")).exclude(state=StoredState.FINISHED)
    moved = (
        Blanket.objects.annotate(asked=last)
        .filter(Exists(left))
        .filter(
            (Q(asked__lt=now - PAUSE) & Exists(since))
            | (Q(asked=None) & Exists(lately.filter(verb="claimed", at__lt=now - PAUSE)))
        )
        .select_related("drive__circle")
        .order_by(F("asked").asc(nulls_last=True), "pk")[:MOST_AT_ONCE]
    )
    for blanket in moved:
        request_sheet(
            kind=ROTA, blanket=blanket, by=_by(blanket), options={}, now=now, by_itself=True
        )
    return len(moved)


def _by(blanket: Blanket) -> Member:
    asked = Sheet.objects.filter(kind=KIND, blanket=blanket).order_by("-requested_at").first()
    if asked:
        return asked.requested_by
    return blanket.drive.circle.members.present().organisers().earliest("pk")
