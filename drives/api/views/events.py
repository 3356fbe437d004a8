"""The log of a blanket."""

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.generics import ListAPIView
from rest_framework.serializers import BaseSerializer

from accounts.log import people_in
from accounts.models import Event, Topic
from drives.access import blanket_for
from drives.api.shapes.events import EventSerializer


@extend_schema(tags=["blankets"])
class EventsView(ListAPIView[Event]):
    """What happened to a blanket, newest first."""

    serializer_class = EventSerializer

    def get_serializer(self, *args: Any, **kwargs: Any) -> BaseSerializer[Event]:
        names = people_in(args[0]) if args else {}
        kwargs["context"] = {**self.get_serializer_context(), "names": names}
        return EventSerializer(*args, **kwargs)

    def get_queryset(self) -> QuerySet[Event]:
        blanket, _me = blanket_for(self.request.user, self.kwargs["blanket_id"])
        return Event.objects.about(Topic.BLANKET, blanket.pk).select_related("by")
