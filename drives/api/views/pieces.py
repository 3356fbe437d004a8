"""Pieces: where they are, and how they change hands."""

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import fellow_of, require, require_to_act_for
from accounts.models import Member, Role
from drives.access import blanket_for, hand_over_for, piece_for
from drives.actions.pieces import hand_overs, loss, queue
from drives.api.once import once
from drives.api.shapes.pieces import (
    HandOverBody,
    HandOverSerializer,
    LeaveLineBody,
    LostSerializer,
    PieceSerializer,
    SentBody,
)
from drives.models import HandOver, HandOverWay, Piece
from drives.readings.board import board_of
from drives.readings.next_steps import next_steps
from drives.readings.whereabouts import whereabouts


@extend_schema(tags=["pieces"])
class PiecesView(GenericAPIView[Piece]):
    """The pieces of a blanket."""

    @extend_schema(responses=PieceSerializer(many=True))
    def get(self, request: Request, blanket_id: int) -> Response:
        """Each piece with its squares, who has it, who waits for it, and where it is going."""
        blanket, me = blanket_for(request.user, blanket_id)
        board = board_of(blanket)
        page = self.paginate_queryset(whereabouts(board)) or []
        steps = next_steps([board], page, timezone.localdate())
        found = PieceSerializer(page, many=True, context={"me": me, "steps": steps})
        return self.get_paginated_response(found.data)


@extend_schema(tags=["pieces"])
class ArrangeHandOverView(APIView):
    """Handing a piece over."""

    @extend_schema(request=HandOverBody, responses={201: HandOverSerializer})
    @once
    def post(self, request: Request, piece_id: int) -> Response:
        """Arrange that ``receiver`` gets the piece.

        For whoever has it or is in line for it, organisers and coordinators. To the same receiver
        again nothing changes.
        """
        piece, me = piece_for(request.user, piece_id)
        body = HandOverBody(data=request.data)
        body.is_valid(raise_exception=True)
        values = body.validated_data
        made = hand_overs.arrange_hand_over(
            piece=piece,
            receiver=_somebody(me, values["receiver"]),
            way=HandOverWay(values["way"]),
            day=values["day"],
            by=me,
            now=timezone.now(),
        )
        return _hand_over(made, me, 201)


@extend_schema(tags=["pieces"])
class SendPieceView(APIView):
    """A piece that has left its giver."""

    @extend_schema(request=SentBody, responses=HandOverSerializer)
    @once
    def post(self, request: Request, hand_over_id: int) -> Response:
        """The piece is on its way. For its giver, organisers and coordinators."""
        hand_over, me = hand_over_for(request.user, hand_over_id)
        body = SentBody(data=request.data)
        body.is_valid(raise_exception=True)
        note = body.validated_data["note"]
        sent = hand_overs.send_piece(hand_over=hand_over, note=note, by=me, now=timezone.now())
        return _hand_over(sent, me)


@extend_schema(tags=["pieces"])
class ReceivePieceView(APIView):
    """A piece that has arrived."""

    @extend_schema(request=None, responses=HandOverSerializer)
    @once
    def post(self, request: Request, hand_over_id: int) -> Response:
        """The receiver has the piece now. For them, organisers and coordinators."""
        hand_over, me = hand_over_for(request.user, hand_over_id)
        ended = hand_overs.receive_piece(hand_over=hand_over, by=me, now=timezone.now())
        return _hand_over(ended, me)


@extend_schema(tags=["pieces"])
class CancelHandOverView(APIView):
    """A hand-over that does not take place."""

    @extend_schema(request=None, responses=HandOverSerializer)
    @once
    def post(self, request: Request, hand_over_id: int) -> Response:
        """The piece stays where it is. For the two people, organisers and coordinators."""
        hand_over, me = hand_over_for(request.user, hand_over_id)
        ended = hand_overs.cancel_hand_over(hand_over=hand_over, by=me, now=timezone.now())
        return _hand_over(ended, me)


@extend_schema(tags=["pieces"])
class LeaveQueueView(APIView):
    """Waiting no longer."""

    @extend_schema(request=LeaveLineBody, responses=PieceSerializer)
    @once
    def post(self, request: Request, piece_id: int) -> Response:
        """Leave the line for the piece, or take ``member`` out (organisers and coordinators)."""
        piece, me = piece_for(request.user, piece_id)
        body = LeaveLineBody(data=request.data)
        body.is_valid(raise_exception=True)
        member_id = body.validated_data.get("member", me.pk)
        require_to_act_for(me, member_id)
        member = _somebody(me, member_id)
        queue.leave_queue(piece=piece, member=member, by=me, now=timezone.now())
        board = board_of(piece.blanket)
        (there,) = found = whereabouts(board, [piece.pk])
        steps = next_steps([board], found, timezone.localdate())
        return Response(PieceSerializer(there, context={"me": me, "steps": steps}).data)


@extend_schema(tags=["pieces"])
class DeclarePieceLostView(APIView):
    """A piece that is lost or spoilt."""

    @extend_schema(request=None, responses=LostSerializer)
    @once
    def post(self, request: Request, piece_id: int) -> Response:
        """Its squares are open again, and what was in hand on it is released.

        For organisers and coordinators.
        """
        piece, me = piece_for(request.user, piece_id)
        require(me, Role.COORDINATOR)
        return Response(
            {"squares": loss.declare_piece_lost(piece=piece, by=me, now=timezone.now())}
        )


def _somebody(me: Member, member_id: int) -> Member:
    return me if member_id == me.pk else fellow_of(me, member_id)


def _hand_over(hand_over: HandOver, me: Member, status: int = 200) -> Response:
    return Response(HandOverSerializer(hand_over, context={"me": me}).data, status)
