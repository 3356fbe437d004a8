"""Drives."""

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.generics import ListAPIView

from drives.access import drives_of
from drives.api.keys import caller
from drives.api.shapes.drives import DriveSerializer
from drives.models import Drive


@extend_schema(tags=["drives"])
class DrivesView(ListAPIView[Drive]):
    """The drives of the caller's circles, the newest first."""

    serializer_class = DriveSerializer

    def get_queryset(self) -> QuerySet[Drive]:
        return drives_of(caller(self.request))
