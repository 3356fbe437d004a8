"""The values of a body, read strictly: a number is a number, not a string of digits."""

from collections.abc import Hashable, Iterable
from decimal import Decimal
from typing import Any, ClassVar

from django.utils.text import format_lazy
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from drives.craft.gauge.needles import NEEDLES
from drives.craft.layout.layout import UNITS_WIDE, Large, Seam
from drives.craft.places import LIMIT, Place
from drives.words.places import place_named
from shared.basics.likely_days import likely_day

PLACE_SCHEMA = {"type": "string", "pattern": "^[A-Z]{1,2}[1-9][0-9]{0,2}$", "example": "C4"}


class Whole(serializers.IntegerField):
    """A whole number from ``low`` to ``high``."""

    def __init__(self, low: int, high: int, **kwargs: Any) -> None:
        sentence = format_lazy(
            gettext_lazy("This must be a whole number from {low} to {high}."), low=low, high=high
        )
        messages: dict[str, Any]
        messages = dict.fromkeys(("invalid", "min_value", "max_value"), sentence)
        super().__init__(min_value=low, max_value=high, error_messages=messages, **kwargs)

    def to_internal_value(self, data: Any) -> int:
        if type(data) is not int:
            self.fail("invalid")
        return data


class Number(serializers.FloatField):
    """A number from ``low`` to ``high``."""

    def __init__(self, low: float, high: float, **kwargs: Any) -> None:
        sentence = format_lazy(
            gettext_lazy("This must be a number from {low} to {high}."), low=low, high=high
        )
        self.low, self.high = low, high
        messages: dict[str, Any]
        messages = dict.fromkeys(("invalid", "min_value", "max_value"), sentence)
        super().__init__(min_value=low, max_value=high, error_messages=messages, **kwargs)

    def to_internal_value(self, data: Any) -> float:
        # Asked before it is made a float, which the largest whole numbers are too large for.
        if type(data) not in (int, float) or not self.low <= data <= self.high:
            self.fail("invalid")
        return float(data)


class Truth(serializers.BooleanField):
    """``true`` or ``false`` and nothing that only resembles them."""

    default_error_messages = {"invalid": gettext_lazy("This must be true or false.")}

    def to_internal_value(self, data: Any) -> bool:
        if not isinstance(data, bool):
            self.fail("invalid")
        return data


class Day(serializers.DateField):
    """A day that can be meant."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(validators=[likely_day], **kwargs)


class GaugeNumber(serializers.DecimalField):
    """Stitches to 10 cm of garter stitch."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            max_digits=5,
            decimal_places=2,
            min_value=Decimal("0.1"),
            coerce_to_string=False,
            help_text=gettext_lazy("Stitches to 10 cm of garter stitch."),
            **kwargs,
        )


class OneOf(serializers.ChoiceField):
    """One of a few words."""

    def __init__(self, words: Iterable[str], **kwargs: Any) -> None:
        words = [str(word) for word in words]
        sentence = format_lazy(
            gettext_lazy("This must be one of: {words}."), words=", ".join(words)
        )
        super().__init__(choices=words, error_messages={"invalid_choice": sentence}, **kwargs)


class Entries(serializers.Field[Any, Any, Any, Any]):
    """A list without repeats; every entry that is wrong is told."""

    most: ClassVar[int] = LIMIT * LIMIT
    default_error_messages = {
        "not_a_list": gettext_lazy("This must be a list."),
        "too_many": gettext_lazy("This list is longer than the largest blanket allows ({most})."),
    }

    def read(self, entry: Any) -> tuple[Hashable, Any]:
        """What makes the entry the same as another, and its value.

        Raises ValueError with a sentence.
        """
        raise NotImplementedError

    def to_internal_value(self, data: Any) -> frozenset[Any]:
        if not isinstance(data, list):
            self.fail("not_a_list")
        if len(data) > self.most:
            self.fail("too_many", most=self.most)
        found: dict[Hashable, Any] = {}
        wrong = []
        for entry in data:
            try:
                key, value = self.read(entry)
                if key in found:
                    raise ValueError(_("%(entry)s is given twice.") % {"entry": key})
                found[key] = value
            except ValueError as error:
                wrong.append(str(error))
        if wrong:
            raise serializers.ValidationError(wrong)
        return frozenset(found.values())


@extend_schema_field({"type": "number", "enum": [each.mm for each in NEEDLES], "nullable": True})
class NeedleSize(serializers.Field[Any, Any, Any, Any]):
    """A needle of the core's table by its mm."""

    default_error_messages = {"invalid": gettext_lazy("This must be one of: {words}.")}

    def to_internal_value(self, data: Any) -> Decimal:
        if type(data) not in (int, float) or data not in {each.mm for each in NEEDLES}:
            self.fail("invalid", words=", ".join(f"{each.mm:g}" for each in NEEDLES))
        return Decimal(str(data))


@extend_schema_field({"type": "array", "items": PLACE_SCHEMA})
class Places(Entries):
    """Names of places."""

    def read(self, entry: Any) -> tuple[Hashable, Any]:
        place = _place(entry)
        return place, place


@extend_schema_field(
    {
        "type": "array",
        "items": {
            "type": "object",
            "properties": {
                "at": PLACE_SCHEMA,
                "size": {"type": "integer", "minimum": UNITS_WIDE[0], "maximum": UNITS_WIDE[-1]},
            },
            "required": ["at", "size"],
            "additionalProperties": False,
        },
    }
)
class LargeSquares(Entries):
    """Large squares, each by its bottom-left place and its width in units."""

    def read(self, entry: Any) -> tuple[Hashable, Any]:
        if not isinstance(entry, dict) or entry.keys() != {"at", "size"}:
            raise ValueError(_("A large square is given as {“at”: “A1”, “size”: 2}."))
        if type(entry["size"]) is not int:
            raise ValueError(_("The size of a large square is a whole number."))
        large = Large(_place(entry["at"]), entry["size"])
        return large.at, large

    def to_internal_value(self, data: Any) -> frozenset[Large]:
        squares = super().to_internal_value(data)
        # The core would name a pair that overlaps; in so long a list the sum tells more.
        if sum(square.size**2 for square in squares if square.size in UNITS_WIDE) > self.most:
            raise serializers.ValidationError(
                _("Together the large squares do not fit into the largest blanket.")
            )
        return squares


@extend_schema_field(
    {
        "type": "array",
        "items": {"type": "array", "items": PLACE_SCHEMA, "minItems": 2, "maxItems": 2},
    }
)
class Seams(Entries):
    """Pairs of neighbouring places, in either order."""

    most = 2 * LIMIT * LIMIT

    def read(self, entry: Any) -> tuple[Hashable, Any]:
        if not isinstance(entry, list) or len(entry) != 2:
            raise ValueError(_("A seam is given as two places, like [“A1”, “B1”]."))
        seam = Seam.between(_place(entry[0]), _place(entry[1]))
        return f"{seam.first}–{seam.second}", seam


def _place(name: Any) -> Place:
    if not isinstance(name, str):
        raise ValueError(_("A place is given by its name, like “C4”."))
    return place_named(name)
