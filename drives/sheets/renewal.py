"""Rotas are made anew by themselves when something has happened: nobody waits for them."""

from datetime import datetime, timedelta

from django.db.models import Exists, F, Max, OuterRef

from accounts.models import Event, Topic
from drives.actions.paper.sheets import request_sheet
from drives.models import Blanket, Sheet, Square, StoredState
from drives.readings.rota import FRESH, KIND

from .kinds import ROTA

PAUSE = timedelta(minutes=5)  # a blanket's rota is made by itself no more often
MOST_AT_ONCE = 20


def renew_rotas(now: datetime) -> int:
    """Ask for the rota of each blanket that has a fresh one and has moved on; say how many.

    Whoever asked for the last one counts as asking; it spends nothing of what they may ask for.
    """
    rotas = Sheet.objects.filter(kind=KIND, blanket=OuterRef("pk")).order_by()
    asked = rotas.values("blanket").annotate(last=Max("requested_at")).values("last")
    since = Event.objects.filter(
        topic=Topic.BLANKET, topic_id=OuterRef("pk"), at__gt=OuterRef("asked")
    )
    left = Square.objects.filter(blanket=OuterRef("pk")).exclude(state=StoredState.FINISHED)
    moved = (
        Blanket.objects.annotate(asked=asked)
        .filter(Exists(since), Exists(left), asked__gt=now - FRESH, asked__lt=now - PAUSE)
        .select_related("drive__circle")
        .order_by(F("asked"), "pk")[:MOST_AT_ONCE]
    )
    for blanket in moved:
        last = Sheet.objects.filter(kind=KIND, blanket=blanket).latest("requested_at")
        request_sheet(
            kind=ROTA, blanket=blanket, by=last.requested_by, options={}, now=now,
            by_itself=True,
        )  # fmt: skip
    return len(moved)
