"""When a blanket will be done."""

from collections.abc import Mapping
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.models import Member
from drives.access import blanket_for
from drives.actions.paper.sheets import request_sheet
from drives.api.once import once
from drives.api.shapes.forecast import ForecastSerializer, MakingSerializer
from drives.models import Blanket
from drives.readings.foretold import read_foretold
from drives.sheets.foreseen import Foreseen, foreseen
from drives.sheets.kind import LookAhead
from drives.sheets.kinds import FORECAST
from shared.basics.refusals import Refused


@extend_schema(tags=["forecast"])
class ForecastView(APIView):
    """The forecast of one blanket."""

    @extend_schema(responses={200: ForecastSerializer, 202: MakingSerializer, 409: None})
    def get(self, request: Request, blanket_id: int) -> Response:
        """The forecast that was made last; “current” says whether it is still true.

        202 while the first one is being worked out; a POST asks for one.
        """
        blanket, _me = blanket_for(request.user, blanket_id)
        never = Refused("forecast-not-made", _("No forecast of this blanket was asked for yet."))
        return made_last(FORECAST, blanket, {}, never)

    @extend_schema(request=None, responses={200: ForecastSerializer, 202: MakingSerializer})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Have the forecast of the blanket as it stands worked out. For every member.

        202 while it is being worked out: ask again in a moment, by GET or by POST. As long as
        nothing has changed, the answer is the forecast that is there.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        return made_anew(FORECAST, blanket, {}, me)


def made_last(
    kind: LookAhead, blanket: Blanket, options: Mapping[str, Any], never: Refused
) -> Response:
    """What was foreseen last; raises ``never`` where nothing was asked for."""
    there = foreseen(kind, blanket, options, timezone.now())
    if there.made is None and not (there.asked and there.asked.unfinished):
        raise never
    return _told(there)


def made_anew(
    kind: LookAhead, blanket: Blanket, options: Mapping[str, Any], me: Member
) -> Response:
    """Asked for, as the blanket stands."""
    sheet = request_sheet(kind=kind, blanket=blanket, by=me, options=options, now=timezone.now())
    return _told(Foreseen(sheet, None if sheet.unfinished else sheet))


def _told(there: Foreseen) -> Response:
    if there.made is None:
        return Response(MakingSerializer(there.asked).data, 202)
    told = read_foretold(there.made)
    return Response(told | {"current": there.current, "made_at": there.made.finished_at})
