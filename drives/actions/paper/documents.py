"""Asking for printed documents."""

from dataclasses import replace
from datetime import datetime

from accounts.models import Member
from drives.models import Blanket, Options, Sheet

from .kind import PrintedKind
from .sheets import request_sheet


def request_document(
    *, kind: PrintedKind, blanket: Blanket, by: Member, options: Options, now: datetime
) -> Sheet:
    """The printed document of the blanket as it stands; choices that it has no use for are dropped.

    ``options.places`` are squares of the blanket, ``options.piece`` and ``options.meeting`` ids of
    its own; what the kind cannot do without is given. Refused: what the kind refuses.
    """
    kept = Options(**{name: getattr(options, name) for name in kind.choices})
    if kept.english == blanket.drive.circle.english:
        kept = replace(kept, english="")
    kind.check(blanket, kept)
    return request_sheet(
        kind=kind,
        blanket=blanket,
        by=by,
        options=kept.stored(),
        now=now,
    )
