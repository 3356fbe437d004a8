"""Circles, and who is in them."""

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.generics import ListAPIView

from accounts.access import member_of, memberships_of
from accounts.models import Member
from drives.api.keys import caller
from drives.api.shapes.circles import CircleSerializer, MemberSerializer


@extend_schema(tags=["circles"])
class CirclesView(ListAPIView[Member]):
    """The circles that the caller is in, by name."""

    serializer_class = CircleSerializer

    def get_queryset(self) -> Any:
        return memberships_of(caller(self.request))


@extend_schema(tags=["circles"])
class MembersView(ListAPIView[Member]):
    """Who is in a circle now, by name."""

    serializer_class = MemberSerializer

    def get_queryset(self) -> QuerySet[Member]:
        circle = member_of(self.request.user, self.kwargs["circle_id"]).circle
        return circle.members.present()
