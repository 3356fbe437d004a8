"""What ``OPTIONS`` answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import reverse
from rest_framework.metadata import BaseMetadata
from rest_framework.request import Request

if TYPE_CHECKING:  # the framework's views load this module
    from rest_framework.views import APIView


class AllowOnly(BaseMetadata):
    """The methods stand in the header Allow; the rest is in the documentation."""

    def determine_metadata(self, request: Request, view: APIView) -> dict[str, str]:
        return {"described_at": reverse("api:docs")}
