"""Telling what the receiver of a finished blanket should know."""

from dataclasses import asdict, dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from accounts.models import Member
from drives.actions.locks import hold_blanket
from drives.actions.log import note_blanket
from drives.actions.yarn.reservations import free_reserved
from drives.craft.fibre.care import Care
from drives.models import Blanket, Gift, told_care
from shared.basics.changes import set_changed
from shared.basics.transactions import writing

NO_CARE_TOLD = Care()


@dataclass(frozen=True, kw_only=True)
class GiftDescription:
    """As in ``Gift``: lengths in cm, None or empty where nobody knows."""

    width: Decimal | None = None
    height: Decimal | None = None
    fibres: str = ""
    care: Care = NO_CARE_TOLD
    given_on: date | None = None
    holes: bool | None = None
    fringe: bool | None = None
    washed: bool | None = None
    smoke_free: bool | None = None
    pet_free: bool | None = None
    label: bool | None = None

    @property
    def stored(self) -> dict[str, Any]:
        """For a row."""
        return asdict(self) | {"care": told_care.stored_care(self.care)}


def describe_gift(
    *, blanket: Blanket, by: Member, description: GiftDescription, now: datetime
) -> Gift:
    """The blanket's gift record with exactly this; the same again changes nothing.

    What was reserved for a blanket that is handed over is free again.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        gift = Gift.objects.filter(blanket=blanket).first() or Gift(blanket=blanket)
        if changed := set_changed(gift, description.stored):
            if gift.pk is None:
                gift.save(force_insert=True)
            else:
                gift.save(update_fields=changed)
            note_blanket(blanket, by, "gift-described", now, changed=changed)
            if gift.given_on is not None:
                free_reserved(blanket, by, now)
    return gift
