"""Blankets."""

from django.db.models import QuerySet
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import blanket_for, blankets_of, drive_for
from drives.actions.drives.blankets import plan_blanket
from drives.api.keys import caller
from drives.api.once import once
from drives.api.shapes.blankets import (
    BlanketBody,
    BlanketDetailSerializer,
    BlanketSerializer,
    blanket_detail_json,
    blanket_json,
    tallies,
)
from drives.api.shapes.needs import NeedsQuery, NeedsSerializer, needs_json
from drives.models import Blanket


@extend_schema(tags=["blankets"])
class BlanketsView(GenericAPIView[Blanket]):
    """The blankets of the caller's circles."""

    invalid = "invalid-plan"

    def get_queryset(self) -> QuerySet[Blanket]:
        return blankets_of(caller(self.request))

    @extend_schema(responses=BlanketSerializer(many=True))
    def get(self, request: Request) -> Response:
        """Every blanket that the caller can see, in the order of planning."""
        page = self.paginate_queryset(self.get_queryset()) or []
        counts = tallies(page)
        return self.get_paginated_response(
            [blanket_json(blanket, counts[blanket.pk]) for blanket in page]
        )

    @extend_schema(request=BlanketBody, responses={201: BlanketDetailSerializer})
    @once
    def post(self, request: Request) -> Response:
        """Plan a blanket for a drive. For organisers."""
        body = BlanketBody(data=request.data)
        body.is_valid(raise_exception=True)
        values = body.validated_data
        drive, me = drive_for(request.user, values["drive"])
        require(me, Role.ORGANISER)
        blanket = plan_blanket(
            drive=drive,
            by=me,
            name=values["name"],
            gauge=values["gauge"],
            layout=body.layout(),
            now=timezone.now(),
        )
        return Response(blanket_detail_json(blanket), 201)


@extend_schema(tags=["blankets"])
class BlanketView(APIView):
    """One blanket."""

    @extend_schema(responses=BlanketDetailSerializer)
    def get(self, request: Request, blanket_id: int) -> Response:
        """A blanket with its layout, and how far it is."""
        blanket, _me = blanket_for(request.user, blanket_id)
        return Response(blanket_detail_json(blanket))


@extend_schema(tags=["blankets"])
class BlanketNeedsView(APIView):
    """What one blanket takes."""

    @extend_schema(parameters=[NeedsQuery], responses={200: NeedsSerializer, 422: None})
    def get(self, request: Request, blanket_id: int) -> Response:
        """Stitches, hours, size, border and finishing of all of the blanket."""
        blanket, _me = blanket_for(request.user, blanket_id)
        query = NeedsQuery(data=request.query_params)
        query.is_valid(raise_exception=True)
        told = query.validated_data
        by_clock = [float(each) for each in told["minutes"]]
        return Response(needs_json(blanket.plan(), float(blanket.gauge), told["border"], by_clock))
