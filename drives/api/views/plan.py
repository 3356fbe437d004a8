"""Planning without storing; nobody has to sign in for it."""

from drf_spectacular.utils import extend_schema
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from drives.api import examples
from drives.api.shapes.bodies import PlanBody, RowsBody
from drives.api.shapes.plan import PlanSerializer, RowsSerializer, plan_json, rows_json
from drives.craft.layout.layout import Mitre
from drives.craft.layout.plan import plan


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
        return Response(plan_json(plan(body.layout()), body.hand_of()))


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
