"""Sheets."""

from typing import Any

from django.urls import reverse
from django.utils.text import format_lazy
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import OneOf, Places, Truth, Whole
from drives.craft.knitter import English, Hand
from drives.models import Blanket, Ink, Options, Paper, Print, Sheet, Status
from drives.sheets.kinds import PRINTED
from drives.sheets.kinds.cards import MOST_CARDS

from .bodies import BIGGEST_ID, Body

KINDS_TEXT = gettext_lazy("Kinds: {kinds}.")


def _help(name: str, words: object) -> Any:
    """``words`` on a choice, and which kinds have it."""
    kinds = ", ".join(code for code, kind in PRINTED.items() if name in kind.uses)
    return format_lazy("{words} {kinds}", words=words, kinds=format_lazy(KINDS_TEXT, kinds=kinds))


class SheetBody(Body):
    """Which document, and its choices; each kind takes only those that it has a use for."""

    kind = OneOf(PRINTED)
    paper = OneOf(Paper.values, default=Paper.A4.value)
    ink = OneOf(Ink.values, default=Ink.COLOUR.value)
    print = OneOf(
        Print.values, default=Print.NORMAL.value, help_text=gettext_lazy("Size of the letters.")
    )
    english = OneOf(English, required=False, help_text=gettext_lazy("Else the circle’s."))
    places = Places(
        required=False,
        help_text=_help(
            "places", gettext_lazy("The squares, 150 at most; else all that are ready.")
        ),
    )
    to_a_page = Whole(1, 2, required=False, help_text=_help("to_a_page", gettext_lazy("Else 1.")))
    hand = OneOf(
        Hand,
        required=False,
        help_text=_help("hand", gettext_lazy("Of squares that nobody has; else right.")),
    )
    tiled = Truth(
        required=False,
        help_text=_help("tiled", gettext_lazy("Over several pages (true), or one of A3.")),
    )
    meeting = Whole(
        1,
        BIGGEST_ID,
        required=False,
        help_text=_help("meeting", gettext_lazy("The id of a meeting; else the next one.")),
    )
    piece = Whole(
        1,
        BIGGEST_ID,
        required=False,
        help_text=_help("piece", gettext_lazy("The id of a piece; it must be given.")),
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """What the kind has a use for, and what the blanket has."""
        blanket: Blanket = self.context["blanket"]
        kind = PRINTED[attrs["kind"]]
        wrong: dict[str, str] = {}
        for name in sorted(attrs.keys() - {"kind", *kind.choices}):
            wrong[name] = _("A document of the kind “%(kind)s” has no use for this.")
        places = sorted(attrs.get("places", ()))
        unknown = [str(place) for place in places if place not in blanket.plan().size]
        if unknown:
            wrong["places"] = _("No squares of this blanket: %(unknown)s.")
        elif len(places) > MOST_CARDS:
            wrong["places"] = _("At most %(most)d cards at a time.")
        pieces = blanket.pieces.filter(pk__in=[attrs.get("piece")])
        if "piece" in kind.needs and not pieces.exists():
            wrong["piece"] = _("This must be the id of a piece of this blanket.")
        meeting = attrs.get("meeting")
        if meeting is not None and not blanket.drive.meetings.filter(pk=meeting).exists():
            wrong["meeting"] = _("This must be the id of a meeting of this drive.")
        if wrong:
            facts = {"kind": kind.code, "unknown": ", ".join(unknown), "most": MOST_CARDS}
            raise serializers.ValidationError(
                {name: [sentence % facts] for name, sentence in wrong.items()}
            )
        return attrs

    def options(self) -> Options:
        """The choices of a valid body."""
        chosen = {name: value for name, value in self.validated_data.items() if name != "kind"}
        chosen["places"] = tuple(str(place) for place in sorted(chosen.get("places", ())))
        return Options(**chosen)


class SheetSerializer(serializers.ModelSerializer[Sheet]):
    """A document and how far it is. ``url`` tells this again, ``file`` is there when it is done.

    ``options`` are the paper and what was chosen otherwise than is usual.
    """

    kind = serializers.ChoiceField(list(PRINTED), read_only=True)
    error = serializers.CharField(source="trouble", read_only=True)
    url = serializers.SerializerMethodField()
    file = serializers.SerializerMethodField()

    class Meta:
        model = Sheet
        fields = [
            *("id", "blanket", "kind", "options", "status", "progress", "error", "url", "file"),
            *("requested_at", "finished_at"),
        ]
        read_only_fields = fields

    def get_url(self, sheet: Sheet) -> str:
        return self._address("api:sheet", sheet)

    def get_file(self, sheet: Sheet) -> str | None:
        return self._address("api:sheet-file", sheet) if sheet.status == Status.DONE else None

    def _address(self, name: str, sheet: Sheet) -> str:
        request: Any = self.context["request"]
        address: str = request.build_absolute_uri(reverse(name, args=[sheet.pk]))
        return address
