"""Ways to cut a blanket into panels."""

from typing import Any

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import Serializer
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Member, Role
from drives.access import blanket_for
from drives.api.once import once
from drives.api.shapes.forecast import MakingSerializer
from drives.api.shapes.panels import PanelsSerializer, SupposedBody, SupposedQuery
from drives.api.views.forecast import made_anew, made_last
from drives.models import Blanket
from drives.sheets.kinds import PANELS
from drives.sheets.kinds.panels import as_options
from shared.basics.refusals import Refused


@extend_schema(tags=["forecast"])
class PanelsView(APIView):
    """The proposals for panels of one blanket, for the people and days that are supposed."""

    @extend_schema(
        parameters=[SupposedQuery],
        responses={200: PanelsSerializer, 202: MakingSerializer, 409: None, 422: None},
    )
    def get(self, request: Request, blanket_id: int) -> Response:
        """The proposals that were made last for what is supposed, for organisers.

        202 while they are being worked out; a POST asks for them.
        """
        blanket, _me, options = _asked(
            request, blanket_id, SupposedQuery(data=request.query_params)
        )
        never = Refused("panels-not-made", _("Nobody asked for these proposals yet."))
        return made_last(PANELS, blanket, options, never)

    @extend_schema(
        request=SupposedBody,
        responses={200: PanelsSerializer, 202: MakingSerializer, 422: None},
    )
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Have the best ways to cut the blanket worked out, for organisers. Nothing is cut.

        202 while that is being done: ask again in a moment, by GET or by POST. To cut it, send
        the blanket’s layout with the new seams.
        """
        blanket, me, options = _asked(request, blanket_id, SupposedBody(data=request.data))
        return made_anew(PANELS, blanket, options, me)


def _asked(
    request: Request, blanket_id: int, supposed: Serializer[Any]
) -> tuple[Blanket, Member, dict[str, Any]]:
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.ORGANISER)
    supposed.is_valid(raise_exception=True)
    return blanket, me, as_options(blanket, supposed.validated_data)
