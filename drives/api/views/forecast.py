"""When a blanket will be done."""

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from drives.access import blanket_for
from drives.actions.paper.sheets import request_sheet
from drives.api.shapes.forecast import ForecastSerializer, MakingSerializer
from drives.models import Status
from drives.readings.foretold import read_foretold
from drives.sheets.kinds import FORECAST


@extend_schema(tags=["forecast"])
class ForecastView(APIView):
    """The forecast of one blanket."""

    @extend_schema(responses={200: ForecastSerializer, 202: MakingSerializer})
    def get(self, request: Request, blanket_id: int) -> Response:
        """The forecast of the blanket as it stands.

        202 while it is being worked out, which the first call of a new state begins.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        sheet = request_sheet(blanket=blanket, by=me, kind=FORECAST, options={}, now=timezone.now())
        if sheet.status != Status.DONE:
            return Response(MakingSerializer(sheet).data, 202)
        try:
            return Response(read_foretold(sheet))
        except FileNotFoundError:
            raise Http404 from None
