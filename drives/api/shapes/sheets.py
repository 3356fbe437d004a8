"""Sheets."""

from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from accounts.models import English
from drives.actions.paper.documents import EVERYWHERE, MOST_CARDS, USES
from drives.api.fields import OneOf, Places, Truth, Whole
from drives.craft.knitter import Hand
from drives.models import PRINTED, Blanket, Ink, Kind, Options, Paper, Print, Sheet, Status

from .bodies import BIGGEST_ID, Body


class SheetBody(Body):
    """Which document, and its choices; each kind takes only those that it has a use for."""

    kind = OneOf(PRINTED)
    paper = OneOf(Paper.values, default=Paper.A4.value)
    ink = OneOf(Ink.values, default=Ink.COLOUR.value)
    print = OneOf(
        Print.values, default=Print.NORMAL.value, help_text=gettext_lazy("Size of the letters.")
    )
    english = OneOf(English.values, required=False, help_text=gettext_lazy("Else the circle’s."))
    places = Places(
        required=False,
        help_text=gettext_lazy("For cards: the squares, 150 at most; else all that are ready."),
    )
    to_a_page = Whole(
        1, 2, required=False, help_text=gettext_lazy("For cards and the set: else 1.")
    )
    hand = OneOf(
        Hand,
        required=False,
        help_text=gettext_lazy("For cards and the set: of squares that nobody has; else right."),
    )
    tiled = Truth(
        required=False,
        help_text=gettext_lazy("For the wall map: over several pages (true), or one of A3."),
    )
    meeting = Whole(
        1,
        BIGGEST_ID,
        required=False,
        help_text=gettext_lazy("For the meeting list and the set: its id; else the next one."),
    )
    piece = Whole(
        1, BIGGEST_ID, required=False, help_text=gettext_lazy("For a label, which needs it.")
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """What the kind has a use for, and what the blanket has."""
        blanket: Blanket = self.context["blanket"]
        kind = attrs["kind"]
        wrong: dict[str, str] = {}
        for name in sorted(attrs.keys() - {"kind", *EVERYWHERE, *USES[kind]}):
            wrong[name] = _("A document of the kind “%(kind)s” has no use for this.")
        places = sorted(attrs.get("places", ()))
        unknown = [str(place) for place in places if place not in blanket.plan().size]
        if unknown:
            wrong["places"] = _("No squares of this blanket: %(unknown)s.")
        elif len(places) > MOST_CARDS:
            wrong["places"] = _("At most %(most)d cards at a time.")
        if kind == Kind.LABEL and not blanket.pieces.filter(pk__in=[attrs.get("piece")]).exists():
            wrong["piece"] = _("This must be the id of a piece of this blanket.")
        meeting = attrs.get("meeting")
        if meeting is not None and not blanket.drive.meetings.filter(pk=meeting).exists():
            wrong["meeting"] = _("This must be the id of a meeting of this drive.")
        if wrong:
            facts = {"kind": kind, "unknown": ", ".join(unknown), "most": MOST_CARDS}
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
