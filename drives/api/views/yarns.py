"""The yarn store."""

from collections.abc import Callable
from typing import Any

from django.db.models import QuerySet
from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.generics import ListAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import member_of, require
from accounts.models import Member, Role
from drives.access import yarn_for
from drives.actions.yarn import ledger, store
from drives.api.once import once
from drives.api.shapes.yarns import NOTED, BallBody, MoveBody, YarnSerializer
from drives.models import Blanket, Move, Yarn, YarnWay
from drives.models.yarn import with_hands

ACTS: dict[YarnWay, Callable[..., Move | None]] = {
    YarnWay.RECEIVED: ledger.receive_yarn,
    YarnWay.HANDED_OUT: ledger.hand_out_yarn,
    YarnWay.RETURNED: ledger.take_back_yarn,
    YarnWay.KNITTED: ledger.knit_up_yarn,
    YarnWay.COUNTED: ledger.count_yarn_again,
}


@extend_schema(tags=["yarn"])
class YarnsView(ListAPIView[Yarn]):
    """The yarns of a circle, by colour and dye lot."""

    serializer_class = YarnSerializer

    def get_queryset(self) -> QuerySet[Yarn]:
        me = member_of(self.request.user, self.kwargs["circle_id"])
        return with_hands(Yarn.objects.filter(circle=me.circle), me)


@extend_schema(tags=["yarn"])
class YarnView(APIView):
    """One yarn."""

    @extend_schema(responses=YarnSerializer)
    def get(self, request: Request, yarn_id: int) -> Response:
        """What is known of it, and where it is."""
        return _told(*yarn_for(request.user, yarn_id))

    @extend_schema(request=BallBody, responses=YarnSerializer)
    @once
    def post(self, request: Request, yarn_id: int) -> Response:
        """Note what a ball of it weighs and costs. For organisers and coordinators."""
        yarn, me = yarn_for(request.user, yarn_id)
        body = BallBody(data=request.data)
        body.is_valid(raise_exception=True)
        require(me, Role.COORDINATOR)
        store.note_ball(yarn=yarn, by=me, now=timezone.now(), **body.validated_data)
        return _told(yarn, me)


@extend_schema(tags=["yarn"])
class MoveYarnView(APIView):
    """Yarn that moves."""

    @extend_schema(request=MoveBody, responses=YarnSerializer)
    @once
    def post(self, request: Request, yarn_id: int) -> Response:
        """Note that grams came, were handed out, brought back, knitted up, or counted again.

        For organisers and coordinators; what members have knitted up of their own, for them too.
        The answer is the yarn as it is then.
        """
        yarn, me = yarn_for(request.user, yarn_id)
        body = MoveBody(data=request.data)
        body.is_valid(raise_exception=True)
        told = body.validated_data
        way = YarnWay(told["way"])
        if way != YarnWay.KNITTED:
            require(me, Role.COORDINATOR)
        line: dict[str, Any] = {"yarn": yarn, "grams": told["grams"]}
        if way != YarnWay.RECEIVED:
            line["member"] = _somebody(me, told["member"])
        if way == YarnWay.KNITTED and told["blanket"] is not None:
            line["blanket"] = _blanket(me, told["blanket"])
        if way in NOTED:
            line["note"] = told["note"]
        ACTS[way](**line, by=me, now=timezone.now())
        return _told(yarn, me)


def _told(yarn: Yarn, me: Member) -> Response:
    """The yarn as it is at this moment."""
    return Response(YarnSerializer(with_hands(Yarn.objects.filter(pk=yarn.pk), me).get()).data)


def _blanket(me: Member, blanket_id: int) -> Blanket:
    blankets = Blanket.objects.filter(drive__circle=me.circle_id, pk=blanket_id)
    if (blanket := blankets.first()) is None:
        raise Http404
    return blanket


def _somebody(me: Member, member_id: int | None) -> Member | None:
    """Of the circle, even if they have left: they may still have some."""
    if member_id is None:
        return None
    member = me.circle.members.filter(pk=member_id).first()
    if member is None:
        raise Http404
    return member
