"""Sheets."""

from typing import Any

from django.urls import reverse
from rest_framework import serializers

from drives.api.fields import OneOf
from drives.models import Kind, Paper, Sheet, Status

from .bodies import Body


class SheetBody(Body):
    """Which document, and on what paper."""

    kind = OneOf([Kind.STATUS.value])  # a label is asked for on the page of its piece
    paper = OneOf(Paper.values, default=Paper.A4.value)


class SheetSerializer(serializers.ModelSerializer[Sheet]):
    """A document and how far it is. ``url`` tells this again, ``file`` is there when it is done."""

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
