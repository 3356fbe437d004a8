"""The codes on paper: one for each square or piece, until it is renewed."""

import secrets
from datetime import datetime

from django.conf import settings
from django.core.signing import BadSignature, Signer
from django.db.models import Q
from django.urls import reverse

from accounts.models import Member
from drives.actions.log import note_blanket
from drives.models import Blanket, Code, Piece, Square
from shared.basics.transactions import writing

ALPHABET = "23456789abcdefghjkmnpqrstuvwxyz"  # nothing that could be read as something else
LENGTH = 12  # 59 bits: enough that nobody meets another's by chance; the signature does the rest
_SIGNER = Signer(sep=".", salt="drives.code")


def code_of(target: Square | Piece, *, now: datetime) -> Code:
    """The live code of a square or a piece; made if there is none."""
    with writing():
        live, _new = Code.objects.live().get_or_create(
            square=target if isinstance(target, Square) else None,
            piece=target if isinstance(target, Piece) else None,
            ended_at=None,
            defaults={"slug": _slug(), "made_at": now},
        )
    return live


def codes_of(blanket: Blanket, squares: list[Square], *, now: datetime) -> dict[int, Code]:
    """The live codes of many squares of one blanket, by the squares' ids; made where missing."""
    with writing():
        wanted = {square.pk for square in squares}
        there = set(
            Code.objects.live().filter(square__in=wanted).values_list("square_id", flat=True)
        )
        Code.objects.bulk_create(
            (Code(square_id=pk, slug=_slug(), made_at=now) for pk in sorted(wanted - there)),
            ignore_conflicts=True,  # another worker has made it meanwhile
        )
        live = Code.objects.live().filter(square__in=wanted, square__blanket=blanket)
        return {code.square_id: code for code in live if code.square_id is not None}


def link(code: Code) -> str:
    """The address that stands in the QR code: signed, and it tells nothing."""
    return settings.SITE_URL + reverse("drives:code", args=[_SIGNER.sign(code.slug)])


def slug_in(token: str) -> str | None:
    """The slug that a link was made of; None where the signature is not ours."""
    try:
        return _SIGNER.unsign(token)
    except BadSignature:
        return None


def renew_codes(
    *, blanket: Blanket, by: Member, now: datetime, target: Square | Piece | None = None
) -> int:
    """Let the codes printed up to now, of ``target`` or of the whole blanket, lead nowhere.

    New ones are made when something is printed. Answers how many ended.
    """
    with writing():
        live = Code.objects.live().of_blanket(blanket)
        if target is not None:
            live = live.filter(Q(square=target) if isinstance(target, Square) else Q(piece=target))
        # Said twice, so that of two who renew at once the second, having waited, finds none left.
        ended = Code.objects.live().filter(pk__in=live.values("pk")).update(ended_at=now)
        if ended:
            what = {"of": str(target)} if target is not None else {}
            note_blanket(blanket, by, "codes-renewed", now, codes=ended, **what)
    return ended


def _slug() -> str:
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
