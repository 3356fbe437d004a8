"""How it is reckoned what is to be bought for a blanket."""

from datetime import datetime
from decimal import Decimal

from accounts.models import Member
from drives.actions.locks import hold_blanket
from drives.actions.log import note_blanket
from drives.models import Blanket, Buying
from shared.basics.changes import set_changed
from shared.basics.transactions import writing


def set_buying(
    *,
    blanket: Blanket,
    by: Member,
    now: datetime,
    certainty: int,
    border_ridges: int,
    border_colour: str,
    seam_colour: str,
    packaging: int,
    postage: Decimal | None,
) -> Buying:
    """The blanket's wishes with exactly this, as in ``Buying``; the same again changes nothing."""
    wanted = {
        "certainty": certainty,
        "border_ridges": border_ridges,
        "border_colour": border_colour,
        "seam_colour": seam_colour,
        "packaging": packaging,
        "postage": postage,
    }
    with writing():
        blanket, _plan = hold_blanket(blanket)
        wishes = Buying.objects.filter(blanket=blanket).first() or Buying(blanket=blanket)
        if changed := set_changed(wishes, wanted):
            if wishes.pk is None:
                wishes.save(force_insert=True)
            else:
                wishes.save(update_fields=changed)
            note_blanket(blanket, by, "buying-set", now, changed=changed)
    return wishes
