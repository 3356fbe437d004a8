"""Who begins what by when."""

from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import fellow_of, may, require
from accounts.models import Member, Role
from drives.access import blanket_for, square_for
from drives.actions.squares import rota
from drives.api.once import once
from drives.api.shapes.forecast import MakingSerializer
from drives.api.shapes.rota import (
    AcceptBody,
    DeclineBody,
    RotaSerializer,
    SaidSerializer,
    TakeBackBody,
)
from drives.api.views.forecast import made_anew, made_last
from drives.craft.places import Place
from drives.models import Blanket
from drives.readings.rota import seen_by
from drives.sheets.kinds import ROTA
from shared.basics.refusals import Refused


@extend_schema(tags=["forecast"])
class RotaView(APIView):
    """The rota of one blanket."""

    @extend_schema(responses={200: RotaSerializer, 202: MakingSerializer, 409: None})
    def get(self, request: Request, blanket_id: int) -> Response:
        """The rota that was made last; “current” says whether it is still true.

        What a coordinator has accepted since stands in it. 202 while the first one is being worked
        out; a POST asks for one.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        never = Refused("rota-not-made", _("Nobody has asked for a rota of this blanket yet."))
        return _seen(made_last(ROTA, blanket, {}, never), blanket, me)

    @extend_schema(request=None, responses={200: RotaSerializer, 202: MakingSerializer})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Have the rota of the blanket as it stands worked out. For every member.

        202 while it is being worked out: ask again in a moment, by GET or by POST. As long as
        nothing has changed, the answer is the rota that is there.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        return _seen(made_anew(ROTA, blanket, {}, me), blanket, me)


@extend_schema(tags=["forecast"])
class AcceptRotaView(APIView):
    """Accepting the rota."""

    @extend_schema(request=AcceptBody, responses={200: SaidSerializer, 409: None})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Plan one square for a member, as the rota has it or otherwise; or accept all of the rota.

        For organisers and coordinators. Nobody is bound by it; the rota keeps to it until somebody
        takes the square.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        told, now = _body(AcceptBody, request), timezone.now()
        if "place" not in told:
            seen = told.get("made_at")
            return _changed(rota.accept_rota(blanket=blanket, seen=seen, by=me, now=now))
        square, _me = square_for(request.user, blanket_id, told["place"])
        member = fellow_of(me, told["member"])
        rota.accept_line(square=square, member=member, begin=told["begin"], by=me, now=now)
        return _changed([square.place])


@extend_schema(tags=["forecast"])
class DeclineRotaView(APIView):
    """Another than the rota proposes."""

    @extend_schema(request=DeclineBody, responses={200: SaidSerializer, 409: None})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """The square is not for this member: the rota gives it to somebody else.

        For organisers and coordinators.
        """
        _blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        told = _body(DeclineBody, request)
        square, _me = square_for(request.user, blanket_id, told["place"])
        member = fellow_of(me, told["member"])
        rota.decline_line(square=square, member=member, by=me, now=timezone.now())
        return _changed([square.place])


@extend_schema(tags=["forecast"])
class TakeBackRotaView(APIView):
    """Taking back what was said to the rota."""

    @extend_schema(request=TakeBackBody, responses={200: SaidSerializer})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Take back what was said about one square, or about all. For organisers and coordinators.

        “places” names the squares about which something had been said.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        told = _body(TakeBackBody, request)
        places = None
        if told:
            places = [square_for(request.user, blanket_id, told["place"]).square.place]
        return _changed(rota.take_back(blanket=blanket, places=places, by=me, now=timezone.now()))


def _body(
    shape: type[AcceptBody] | type[DeclineBody] | type[TakeBackBody], request: Request
) -> Any:
    body = shape(data=request.data)
    body.is_valid(raise_exception=True)
    return body.validated_data


def _changed(places: list[Place]) -> Response:
    return Response({"places": [str(place) for place in places]})


def _seen(answer: Response, blanket: Blanket, me: Member) -> Response:
    """The rota as the caller may see it; what is still being made is told as it is."""
    if answer.status_code == 200:
        whose = None if may(me, Role.COORDINATOR) else me.pk
        answer.data = seen_by(answer.data, blanket, timezone.localdate(), whose)
    return answer
