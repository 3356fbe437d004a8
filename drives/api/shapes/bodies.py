"""The bodies of calls."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import LargeSquares, OneOf, Places, Seams, Truth, Whole
from drives.craft.knitter import Hand
from drives.craft.layout.layout import STITCHES, UNITS_WIDE, Layout, Mitre
from drives.craft.places import LIMIT

LONGEST_NAME = 100
BIGGEST_ID = 2**63 - 1


class Body(serializers.Serializer[Any]):
    """A JSON object; a field that the call does not know is an error, so that no typo is lost."""

    default_error_messages = {"invalid": gettext_lazy("The body must be a JSON object.")}

    def to_internal_value(self, data: Any) -> dict[str, Any]:
        errors: dict[str, Any] = {}
        try:
            values: dict[str, Any] = super().to_internal_value(data)
        except serializers.ValidationError as error:
            if not isinstance(data, Mapping):
                raise
            detail: Any = error.detail
            errors |= detail
        for name in sorted(data.keys() - self.fields.keys()):
            errors[name[:LONGEST_NAME]] = [gettext_lazy("There is no such field in this call.")]
        if errors:
            raise serializers.ValidationError(errors)
        return values


class LayoutBody(Body):
    """A blanket to be worked. What its parts mean together is for the core to judge."""

    columns = Whole(1, LIMIT)
    rows = Whole(1, LIMIT)
    stitches = Whole(
        STITCHES[0], STITCHES[-1], help_text=gettext_lazy("Along one side of a square.")
    )
    mitre = OneOf(Mitre, default=Mitre.PAIRED.value)
    missing = Places(default=[])
    large = LargeSquares(default=[])
    seams = Seams(
        default=[],
        help_text=gettext_lazy("Pairs of places whose common edge is not joined."),
    )
    corner_trade = Truth(default=True, help_text=gettext_lazy("For the paired mitre only."))

    def layout(self) -> Layout:
        """The layout that a valid body describes."""
        values = self.validated_data
        return Layout(
            columns=values["columns"],
            rows=values["rows"],
            stitches=values["stitches"],
            mitre=Mitre(values["mitre"]),
            missing=frozenset(values["missing"]),
            large=frozenset(values["large"]),
            seams=frozenset(values["seams"]),
            corner_trade=values["corner_trade"],
        )


class PlanBody(LayoutBody):
    """A layout, and for which hand its steps are."""

    hand = OneOf(Hand, default=Hand.RIGHT.value)

    def hand_of(self) -> Hand:
        """The hand that a valid body asks for."""
        return Hand(self.validated_data["hand"])


class RowsBody(Body):
    """One square; a large one has a side of several times the blanket's stitches."""

    stitches = Whole(
        STITCHES[0], STITCHES[-1] * UNITS_WIDE[-1], help_text=gettext_lazy("Along its side.")
    )
    mitre = OneOf(Mitre, default=Mitre.PAIRED.value)
