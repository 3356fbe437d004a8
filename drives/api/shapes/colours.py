"""Colour plans: the palette with its rules, and what becomes of each colour."""

from collections.abc import Iterable, Mapping
from typing import Annotated, Any, TypedDict

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import OneOf, Places, Truth, Whole
from drives.craft.colours.palette import MOST_COLOURS, palette_faults
from drives.craft.colours.wish import Pattern
from drives.craft.numbers.ranges import Range
from drives.craft.places import Place
from drives.drawing.colours import look
from drives.readings.checks import colour_checks
from drives.readings.colour_counts import ColourCount, bare, colour_counts, hard_to_tell, shown
from drives.readings.colour_plans import ColoursWanted, Draft, PaletteColour
from drives.words.colours import colours_alike, fault_words

from .bodies import Body
from .checks import CheckJson, check_json
from .typed import shape

MOST_NAMED = 20  # places in one sentence


class HueBody(Body):
    """A colour of the store by its name there; or one that is brought along (``own``).

    ``value`` is how that one looks; without it, as its name says.
    """

    name = serializers.CharField(max_length=40)
    value = serializers.RegexField(r"^#[0-9a-f]{6}\Z", required=False)
    own = Truth(default=False)
    at_most = Whole(
        1, 30_000, default=None, allow_null=True, help_text=gettext_lazy("Squares; null: any.")
    )


class ColoursBody(Body):
    """The colours in the order of their pattern, and what a plan has to mind.

    ``margin``: so many per cent more than the squares take must be there of each colour.
    """

    palette = serializers.ListField(child=HueBody(), allow_empty=False, max_length=MOST_COLOURS)
    pattern = OneOf(Pattern)
    apart = Truth(
        default=True, help_text=gettext_lazy("No two squares of one colour side by side.")
    )
    over_seams = Truth(
        default=True, help_text=gettext_lazy("If apart: nor two with a seam between them.")
    )
    margin = Whole(0, 100, default=10)

    def validate_palette(self, palette: list[dict[str, Any]]) -> list[PaletteColour]:
        """What is wrong with any of them is told at its name."""
        stocks = self.context["stocks"]
        faults = palette_faults([(hue["name"], hue["own"]) for hue in palette], stocks)
        if faults:
            raise serializers.ValidationError(
                [
                    {"name": fault_words(faults[number], hue["name"])} if number in faults else {}
                    for number, hue in enumerate(palette)
                ]
            )
        return [
            PaletteColour(
                hue["name"],
                hue.get("value") or look(hue["name"])
                if hue["own"]
                else stocks[hue["name"]].yarns[0].value,
                hue["own"],
                hue["at_most"],
            )
            for hue in palette
        ]

    def wanted(self) -> ColoursWanted:
        """What a valid body asks for."""
        told = self.validated_data
        return ColoursWanted(
            tuple(told["palette"]),
            Pattern(told["pattern"]),
            told["apart"],
            told["margin"],
            told["over_seams"],
        )


class PaintBody(Body):
    """Squares and the colour that they get, one of the blanket's; empty: none until a plan."""

    colour = serializers.CharField(max_length=40, allow_blank=True)
    places = Places()

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        making: Draft = self.context["making"]
        names = list(shown(making, making.colours))
        wrong: dict[str, str] = {}
        if attrs["colour"] not in ("", *names):
            words = {"words": ", ".join(names)}
            wrong["colour"] = _("This must be one of: %(words)s.") % words
        unknown = [str(place) for place in sorted(attrs["places"]) if place not in making.plan.size]
        if unknown:
            facts = {"unknown": ", ".join(unknown[:MOST_NAMED])}
            wrong["places"] = _("No squares of this blanket: %(unknown)s.") % facts
        if wrong:
            raise serializers.ValidationError(wrong)
        return attrs


class HueJson(TypedDict):
    """A colour of the palette; ``own``: brought along. ``at_most``: squares."""

    name: str
    value: str
    own: bool
    at_most: int | None


class Grams(TypedDict):
    """From so much to so much."""

    low: float
    high: float


class ColourJson(TypedDict):
    """A colour with its squares, of which so many are knitted and so many ``left``.

    ``needs``: grams for those; null where nobody knows what a square weighs. ``there``: grams of
    the store for this blanket, which suffice for so many units; null where it is none of the store.
    """

    name: str
    value: str
    own: bool
    places: list[str]
    planned: int
    knitted: int
    left: int
    needs: Grams | None
    there: int | None
    suffices_for: int | None


class AlikeJson(TypedDict):
    """Two colours that are hard to tell apart, and by whom."""

    one: str
    other: str
    detail: str


class ColoursJson(TypedDict):
    """The palette in the order of its pattern, its rules, and all colours that squares have.

    ``bare``: squares to be knitted without a colour. ``chosen``: places whose colour no plan
    changes. ``unknown``: colours of which nobody knows what a square weighs, taken to be enough.
    ``conflicts``: what goes against the receiver's rules of the yarns of these colours.
    """

    palette: list[HueJson]
    pattern: Annotated[str, Pattern]
    apart: bool
    over_seams: bool
    margin: int
    colours: list[ColourJson]
    bare: int
    chosen: list[str]
    unknown: list[str]
    alike: list[AlikeJson]
    conflicts: list[CheckJson]


class PlannedColours(ColoursJson):
    """The same after a change; ``changed``: the squares whose colour is another now."""

    changed: list[str]


class PossibleColours(TypedDict):
    """``chosen``: somebody chose this colour for the square, and no plan changes it.

    ``possible``: those of the palette that it may have; null where the caller may not choose.
    """

    place: str
    colour: str
    chosen: bool
    possible: list[HueJson] | None


ColoursSerializer = shape(ColoursJson)
PlannedColoursSerializer = shape(PlannedColours)
PossibleColoursSerializer = shape(PossibleColours)


def colours_json(making: Draft, colours: Mapping[Place, str]) -> ColoursJson:
    """If the squares have these ``colours``. Two queries where any rule was told."""
    wanted, counts = making.wanted, colour_counts(making, colours)
    names = [count.hue.name for count in counts]
    checks = colour_checks([making.blanket.drive], names)
    return {
        "palette": [hue_json(hue) for hue in wanted.palette],
        "pattern": wanted.pattern.value,
        "apart": wanted.apart,
        "over_seams": wanted.over_seams,
        "margin": wanted.margin,
        "colours": [_colour_json(count) for count in counts],
        "bare": bare(making, colours),
        "chosen": named(square.place for square in making.squares if square.colour_fixed),
        "unknown": making.unknown,
        "alike": [
            {
                "one": pair.one,
                "other": pair.other,
                "detail": colours_alike(pair.one, pair.other, pair.differences),
            }
            for pair in hard_to_tell(making)
        ],
        "conflicts": [check_json(check) for of in checks.values() for check in of],
    }


def hue_json(hue: PaletteColour) -> HueJson:
    return {"name": hue.name, "value": hue.value, "own": hue.own, "at_most": hue.at_most}


def named(places: Iterable[Place]) -> list[str]:
    """By column and row."""
    return [str(place) for place in sorted(places)]


def _colour_json(count: ColourCount) -> ColourJson:
    return {
        "name": count.hue.name,
        "value": count.hue.value,
        "own": count.hue.own,
        "places": named(count.places),
        "planned": count.planned,
        "knitted": count.knitted,
        "left": count.left,
        "needs": _grams(count.needs),
        "there": count.there,
        "suffices_for": count.suffices_for,
    }


def _grams(found: Range | None) -> Grams | None:
    return found and {"low": found.low, "high": found.high}
