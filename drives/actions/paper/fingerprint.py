"""What makes two documents the same."""

import hashlib
import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.conf import settings

from drives.models import Blanket, Claim
from shared.basics.days import day_of

from .kind import Asked, SheetKind

# Raised when a document comes to look otherwise for the same facts. What was made before is still
# shown where its day stands beside it: its JSON must stay readable for as long as it is kept.
EDITION = 12


def fingerprint(
    kind: SheetKind, blanket: Blanket, options: Mapping[str, Any], now: datetime
) -> str:
    """The same for the same document: a digest of all that decides what stands in it.

    Whatever happens to the blanket changes its revision; what can change without that is named
    one by one: whose names are shown, the words of drive and circle, the day, who is late, and
    what the kind shows beyond that.
    """
    drive = blanket.drive
    circle = drive.circle
    claims = Claim.objects.open().filter(square__blanket=blanket).order_by("pk")
    held = claims.values_list("pk", "member__name", "member__hand", "due_at")
    today = day_of(now, circle.zone)
    facts = [
        *(EDITION, settings.SITE_URL, kind.code, sorted(options.items())),
        *(blanket.pk, blanket.name, blanket.revision()),
        *(drive.name, drive.purpose, drive.recipient, drive.for_babies, drive.deadline, drive.mode),
        *(circle.name, circle.language, circle.units, circle.english, circle.time_zone),
        today,
        [(claim, name, hand, due < now) for claim, name, hand, due in held],
        *kind.facts(Asked(blanket, options, today)),
    ]
    return hashlib.sha256(json.dumps(facts, default=str).encode()).hexdigest()
