"""Who begins what by when."""

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from drives.access import blanket_for
from drives.api.once import once
from drives.api.shapes.forecast import MakingSerializer
from drives.api.shapes.rota import RotaSerializer
from drives.api.views.forecast import made_anew, made_last
from drives.sheets.kinds import ROTA
from shared.basics.refusals import Refused


@extend_schema(tags=["forecast"])
class RotaView(APIView):
    """The rota of one blanket."""

    @extend_schema(responses={200: RotaSerializer, 202: MakingSerializer, 409: None})
    def get(self, request: Request, blanket_id: int) -> Response:
        """The rota that was made last; “current” says whether it is still true.

        202 while the first one is being worked out; a POST asks for one.
        """
        blanket, _me = blanket_for(request.user, blanket_id)
        never = Refused("rota-not-made", _("No rota of this blanket was asked for yet."))
        return made_last(ROTA, blanket, {}, never)

    @extend_schema(request=None, responses={200: RotaSerializer, 202: MakingSerializer})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Have the rota of the blanket as it stands worked out. For every member.

        202 while it is being worked out: ask again in a moment, by GET or by POST. As long as
        nothing has changed, the answer is the rota that is there.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        return made_anew(ROTA, blanket, {}, me)
