"""The squares of a blanket, as they stand."""

from django.utils import translation
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from drives.access import blanket_for, square_for
from drives.api.paging import SquarePages
from drives.api.shapes.squares import (
    SquareDetailSerializer,
    SquareSerializer,
    square_detail_json,
    squares_json,
)
from drives.craft.knitter import English
from drives.craft.layout.states import State
from drives.models import Square
from drives.readings.board import board_of

STATE_CODES = [state.value for state in State]
ENGLISH_CODES = [english.value for english in English]


@extend_schema(tags=["squares"])
class SquaresView(GenericAPIView[Square]):
    """The squares of a blanket."""

    pagination_class = SquarePages

    @extend_schema(
        parameters=[
            OpenApiParameter("state", enum=STATE_CODES, description="Only squares like this.")
        ],
        responses={200: SquareSerializer(many=True), 422: None},
    )
    def get(self, request: Request, blanket_id: int) -> Response:
        """Every square with its state, in the recommended order of work."""
        wanted = request.query_params.get("state")
        blanket, _me = blanket_for(request.user, blanket_id)
        if wanted is not None and wanted not in STATE_CODES:
            sentence = _("This must be one of: %(words)s.") % {"words": ", ".join(STATE_CODES)}
            raise serializers.ValidationError({"state": sentence})
        board = board_of(blanket)
        places = [place for place in board.plan.places if wanted in (None, board.state_of[place])]
        page = self.paginate_queryset(places) or []
        return self.get_paginated_response(squares_json(board, page))


@extend_schema(tags=["squares"])
class SquareView(APIView):
    """One square of a blanket."""

    @extend_schema(
        parameters=[
            OpenApiParameter(
                "english", enum=ENGLISH_CODES, description="Whose terms (the circle's)."
            )
        ],
        responses={200: SquareDetailSerializer, 422: None},
    )
    def get(self, request: Request, blanket_id: int, place: str) -> Response:
        """All that its knitter needs: joins, foundation and rows, for the caller's hand."""
        square, me = square_for(request.user, blanket_id, place)
        english = request.query_params.get("english", square.blanket.drive.circle.english)
        if english not in ENGLISH_CODES:
            sentence = _("This must be one of: %(words)s.") % {"words": ", ".join(ENGLISH_CODES)}
            raise serializers.ValidationError({"english": sentence})
        claim = square.open_claim()
        translation.activate(square.blanket.drive.circle.locale_with(english))
        return Response(square_detail_json(square, claim, me))
