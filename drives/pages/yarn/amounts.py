"""Amounts of yarn in forms: told in the units of the circle, kept in whole grams."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext_lazy

from drives.actions.yarn.ledger import MOST_GRAMS
from drives.pages.common.fields import WeightField
from shared.basics.text import Text

AMOUNT = gettext_lazy("How much, in grams"), gettext_lazy("How much, in ounces")
BALANCE = gettext_lazy("There are, in grams"), gettext_lazy("There are, in ounces")


class AmountField(WeightField):
    """At least so much, cleaned to whole grams."""

    def __init__(
        self,
        labels: tuple[Text, Text] = AMOUNT,
        *,
        least: int,
        most: int = MOST_GRAMS,
        **kwargs: Any,
    ) -> None:
        super().__init__(
            labels,
            between=(Decimal(least), Decimal(most)),
            step=Decimal(1),
            min_value=0,
            max_digits=8,
            decimal_places=2,
            **kwargs,
        )

    def clean(self, value: Any) -> int | None:
        grams = super().clean(value)
        return None if grams is None else int(grams)
