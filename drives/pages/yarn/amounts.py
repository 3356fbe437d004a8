"""Amounts of yarn in forms: told in the units of the circle, kept in whole grams."""

from decimal import Decimal

from django import forms
from django.utils.translation import gettext as _

from accounts.models import Units
from drives import measures
from drives.actions.yarn.ledger import MOST_GRAMS


def amount_label(units: str) -> str:
    return _("How much, in ounces") if units == Units.INCH else _("How much, in grams")


def balance_label(units: str) -> str:
    return _("There are, in ounces") if units == Units.INCH else _("There are, in grams")


def whole_grams(told: Decimal, units: str, least: int = 0) -> int:
    """``told`` in whole grams; ValidationError where it can hardly be."""
    grams = round(measures.to_grams(float(told), units))
    if not least <= grams <= MOST_GRAMS:
        raise forms.ValidationError(_("That can hardly be; please look again."))
    return grams
