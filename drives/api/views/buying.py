"""The yarn of a blanket."""

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import blanket_for
from drives.actions.colours import lots
from drives.actions.colours.new_lot import plan_new_lot
from drives.actions.yarn import buying, reservations
from drives.api.once import once
from drives.api.shapes.buying import (
    LotsBody,
    NewLotBody,
    ReserveBody,
    WishesBody,
    YarnOfBlanketSerializer,
    yarn_json,
)
from drives.craft.yarn.lots import LotWay
from drives.models import Blanket, Yarn
from drives.readings.buying import purchase, wishes_of
from drives.readings.lot_plans import overfull_of
from drives.readings.lots import lots_placed


@extend_schema(tags=["yarn"])
class YarnOfBlanketView(APIView):
    """What a blanket takes of each colour, and what is to be bought."""

    @extend_schema(responses=YarnOfBlanketSerializer)
    def get(self, request: Request, blanket_id: int) -> Response:
        """What each colour takes, whether it is enough, what is short, what all of it weighs."""
        blanket, _me = blanket_for(request.user, blanket_id)
        return _told(blanket)

    @extend_schema(request=WishesBody, responses=YarnOfBlanketSerializer)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Tell how it is reckoned: certainty, border, seams, packaging and postage.

        For coordinators.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        body = WishesBody(data=request.data)
        body.is_valid(raise_exception=True)
        require(me, Role.COORDINATOR)
        wishes = wishes_of(blanket)
        wanted = {
            name: getattr(wishes, name) for name in map(str, body.fields)
        } | body.validated_data
        buying.set_buying(blanket=blanket, by=me, now=timezone.now(), **wanted)
        return _told(blanket)


@extend_schema(tags=["yarn"])
class ReservationsView(APIView):
    """Yarn that is kept for a blanket."""

    @extend_schema(request=ReserveBody, responses=YarnOfBlanketSerializer)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Keep so many grams of a yarn in all for the blanket. For coordinators."""
        blanket, me = blanket_for(request.user, blanket_id)
        body = ReserveBody(data=request.data)
        body.is_valid(raise_exception=True)
        require(me, Role.COORDINATOR)
        told = body.validated_data
        yarn = Yarn.objects.filter(circle=me.circle_id, pk=told["yarn"]).first()
        if yarn is None:
            raise Http404
        reservations.reserve_yarn(
            blanket=blanket, yarn=yarn, grams=told["grams"], by=me, now=timezone.now()
        )
        return _told(blanket)


@extend_schema(tags=["yarn"])
class LotsView(APIView):
    """The dye lots of a colour."""

    @extend_schema(request=LotsBody, responses=YarnOfBlanketSerializer)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Say which dye lots of a colour count together, or that one counts alone.

        For coordinators. The squares that are not begun get their lots by it.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        body = LotsBody(data=request.data)
        body.is_valid(raise_exception=True)
        require(me, Role.COORDINATOR)
        told, now = body.validated_data, timezone.now()
        if told["way"] is None:
            lots.keep_to_one_lot(blanket=blanket, colour=told["colour"], by=me, now=now)
        else:
            lots.choose_lots(
                blanket=blanket,
                colour=told["colour"],
                yarns=told["yarns"],
                way=LotWay(told["way"]),
                by=me,
                now=now,
            )
        return _told(blanket)


@extend_schema(tags=["yarn"])
class NewLotView(APIView):
    """A dye lot that is to be bought."""

    @extend_schema(request=NewLotBody, responses=YarnOfBlanketSerializer)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Place a dye lot in the plan before it is bought. For coordinators.

        It is noted in the store with nothing of it yet. What is received of it is reserved for the
        blanket.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        body = NewLotBody(data=request.data)
        body.is_valid(raise_exception=True)
        require(me, Role.COORDINATOR)
        told = body.validated_data
        way = told["way"] and LotWay(told["way"])
        plan_new_lot(blanket=blanket, by=me, now=timezone.now(), **{**told, "way": way})
        return _told(blanket)


def _told(blanket: Blanket) -> Response:
    found = purchase(blanket)
    overfull = overfull_of(blanket, [each.lots for each in found.supplies])
    return Response(yarn_json(found, lots_placed(blanket), overfull))
