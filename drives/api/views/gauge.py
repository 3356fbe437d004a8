"""How everybody knits a blanket."""

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import fellow_of, may, require_to_act_for
from accounts.models import Role
from drives.access import blanket_for, square_for
from drives.actions.squares.measurements import measure_square
from drives.api import examples
from drives.api.once import once
from drives.api.shapes.gauge import (
    GaugeSerializer,
    MeasuredSerializer,
    SidesBody,
    SwatchBody,
    gauge_json,
    measured_json,
)
from drives.readings.alike import groups_alike
from drives.readings.gauges import knits


@extend_schema(tags=["gauge"])
class GaugeView(APIView):
    """The gauge of a blanket, planned and measured."""

    @extend_schema(responses=GaugeSerializer)
    def get(self, request: Request, blanket_id: int) -> Response:
        """How everybody knits, whether their squares drift, and who knits alike.

        Organisers and coordinators read everybody; others themselves, and who knits as they do.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        known = knits(blanket)
        groups = groups_alike(blanket, known)
        if not may(me, Role.COORDINATOR):
            known = [each for each in known if each.member == me]
            groups = [each for each in groups if me.pk in each.alike.members]
        return Response(gauge_json(blanket, known, groups))

    @extend_schema(request=SwatchBody, responses=MeasuredSerializer, examples=examples.SWATCH)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Note a swatch, one’s own or a ``member``’s (organisers and coordinators).

        The same once more is the swatch that was noted.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        body = SwatchBody(data=request.data)
        body.is_valid(raise_exception=True)
        member_id = body.validated_data.get("member", me.pk)
        require_to_act_for(me, member_id)
        row = measure_square(
            blanket=blanket,
            member=me if member_id == me.pk else fellow_of(me, member_id),
            by=me,
            square=None,
            measured=body.swatch(),
            now=timezone.now(),
        )
        return Response(measured_json(row, blanket))


@extend_schema(tags=["gauge"])
class MeasureSquareView(APIView):
    """Measuring a finished square."""

    @extend_schema(request=SidesBody, responses=MeasuredSerializer, examples=examples.SIDES)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Note how long its edges are. For its knitter, organisers and coordinators.

        Again with other lengths corrects it.
        """
        square, me = square_for(request.user, blanket_id, place)
        body = SidesBody(data=request.data)
        body.is_valid(raise_exception=True)
        row = measure_square(
            blanket=square.blanket,
            member=square.knitter or me,
            by=me,
            square=square,
            measured=body.measured(square.side_stitches, ridges=square.side_stitches),
            now=timezone.now(),
        )
        return Response(measured_json(row, square.blanket))
