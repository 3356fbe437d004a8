"""Planning without storing; nobody has to sign in for it."""

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import drive_for
from drives.api import examples
from drives.api.shapes.bodies import PlanBody, RowsBody
from drives.api.shapes.needs import (
    NearSizesSerializer,
    NeedsBody,
    NeedsSerializer,
    SizesBody,
    TypicalSizesSerializer,
    needs_json,
    sizes_json,
    typical_json,
)
from drives.api.shapes.panels import CutsSerializer, PlanPanelsBody, cuts_json
from drives.api.shapes.plan import PlanSerializer, RowsSerializer, plan_json, rows_json
from drives.craft.forecast.tradeoffs import PLAYED
from drives.craft.layout.layout import Layout, Mitre
from drives.craft.layout.plan import plan
from shared.basics.limits import spend
from shared.pages.asker import address_of


def spend_places(request: Request, layout: Layout, more: int = 0) -> None:
    """Count a plan by the places of its grid, and ``more``. Raises LimitReached."""
    who = {"person": f"user {request.user.pk}"} if request.user.pk else {}
    spend(
        "plans",
        now=timezone.now(),
        times=layout.columns * layout.rows + more,
        **(who or {"address": address_of(request)}),
    )


class PlanView(APIView):
    """Think a layout through."""

    permission_classes = [AllowAny]
    rate = "plan"
    invalid = "invalid-plan"

    @extend_schema(
        tags=["plan"], request=PlanBody, responses=PlanSerializer, examples=examples.PLAN
    )
    def post(self, request: Request) -> Response:
        """The order, the rounds and every foundation of a layout; nothing is stored."""
        body = PlanBody(data=request.data)
        body.is_valid(raise_exception=True)
        layout = body.layout()
        spend_places(request, layout)
        return Response(plan_json(plan(layout), body.hand_of()))


class PlanPanelsView(APIView):
    """Where to cut a layout."""

    permission_classes = [AllowAny]
    rate = "plan"
    invalid = "invalid-plan"

    @extend_schema(
        tags=["plan"], request=PlanPanelsBody, responses={200: CutsSerializer, 403: None, 404: None}
    )
    def post(self, request: Request) -> Response:
        """The best ways to cut a layout into panels, as it stands first; nothing is stored.

        As if so many people knitted steadily, each with a piece at home where one works at a time.
        With a ``drive`` they are its own people, by name, as far as they are so many.
        """
        body = PlanPanelsBody(data=request.data)
        body.is_valid(raise_exception=True)
        layout, told, drive = body.layout(), body.validated_data, None
        if named := told.get("drive"):
            drive, me = drive_for(request.user, named)
            require(me, Role.ORGANISER)
        spend_places(request, layout, PLAYED)
        return Response(cuts_json(plan(layout), told, drive, timezone.now()))


class NeedsView(APIView):
    """What a layout takes."""

    permission_classes = [AllowAny]
    rate = "plan"
    invalid = "invalid-plan"

    @extend_schema(
        tags=["plan"], request=NeedsBody, responses=NeedsSerializer, examples=examples.NEEDS
    )
    def post(self, request: Request) -> Response:
        """Stitches, hours, size, border and finishing of a layout; nothing is stored."""
        body = NeedsBody(data=request.data)
        body.is_valid(raise_exception=True)
        layout, told = body.layout(), body.validated_data
        spend_places(request, layout)
        gauge = float(told["gauge"])
        return Response(needs_json(plan(layout), gauge, told["border"], told["minutes"]))


class SizesView(APIView):
    """From the wanted size to a grid."""

    permission_classes = [AllowAny]
    rate = "plan"

    @extend_schema(
        tags=["plan"],
        request=SizesBody,
        responses={200: NearSizesSerializer, 404: None},
        examples=examples.SIZES,
    )
    def post(self, request: Request) -> Response:
        """The six grids that come nearest to a size; none, if ``at_least`` asks for too much.

        With the ``drive`` that it is for, what its receiver would refuse is told.
        """
        body = SizesBody(data=request.data)
        body.is_valid(raise_exception=True)
        named = body.validated_data.get("drive")
        drive = drive_for(request.user, named)[0] if named else None
        return Response(sizes_json(body.nearest(), drive))


class TypicalSizesView(APIView):
    """Usual sizes of blankets."""

    permission_classes = [AllowAny]
    rate = "plan"

    @extend_schema(tags=["plan"], responses=TypicalSizesSerializer)
    def get(self, _request: Request) -> Response:
        """What is usual for whom, in cm. The receiver’s own rules come first."""
        return Response(typical_json())


class RowsView(APIView):
    """The rows of one square."""

    permission_classes = [AllowAny]
    rate = "plan"
    invalid = "invalid-plan"

    @extend_schema(
        tags=["plan"], request=RowsBody, responses=RowsSerializer, examples=examples.ROWS
    )
    def post(self, request: Request) -> Response:
        """Every row of one square, from the foundation to the last stitch."""
        body = RowsBody(data=request.data)
        body.is_valid(raise_exception=True)
        values = body.validated_data
        return Response(rows_json(values["stitches"], Mitre(values["mitre"])))
