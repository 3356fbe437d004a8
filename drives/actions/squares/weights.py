"""Weighing what is finished."""

from datetime import datetime
from decimal import Decimal

from accounts.models import Member
from drives.actions.locks import hold_finished
from drives.actions.log import note_blanket
from drives.models import Square
from shared.basics.transactions import writing

LIGHTEST, HEAVIEST = Decimal("0.5"), Decimal(5000)  # grams: what a square can weigh at all


def weigh_square(*, square: Square, by: Member, grams: Decimal, now: datetime) -> Square:
    """Note what the square weighs, by its knitter or a coordinator; again corrects it.

    ``grams`` with one decimal, from ``LIGHTEST`` to ``HEAVIEST``. Refused: not-finished, not-yours.
    """
    with writing():
        square = hold_finished(square, by)
        if square.grams != grams:
            square.grams = grams
            square.save(update_fields=["grams"])
            note_blanket(
                square.blanket, by, "weighed", now,
                place=str(square), member=square.knitter_id, grams=f"{grams.normalize():f}",
            )  # fmt: skip
    return square
