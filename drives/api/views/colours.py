"""The colours of a blanket."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import blanket_for, square_for
from drives.actions.colours.by_hand import colour_squares
from drives.actions.colours.plans import plan_colours, set_palette, spend_choice, spend_plan
from drives.actions.colours.refusals import no_colour_plan, no_lot_plan
from drives.actions.rights import square_rights
from drives.api import examples
from drives.api.once import once
from drives.api.shapes.colours import (
    ColoursBody,
    ColoursSerializer,
    PaintBody,
    PlannedColoursSerializer,
    PossibleColoursSerializer,
    colours_json,
    hue_json,
    named,
)
from drives.craft.colours.plan import Coloured
from drives.models import Blanket
from drives.readings.colour_help import helps
from drives.readings.colour_plans import ColoursWanted, colours_wanted, draft
from drives.readings.lot_plans import lot_plan
from drives.readings.stock import stock


@extend_schema(tags=["colours"])
class ColoursView(APIView):
    """The colour plan of a blanket."""

    @extend_schema(responses=ColoursSerializer)
    def get(self, request: Request, blanket_id: int) -> Response:
        """The palette, its rules, and what becomes of each colour."""
        blanket, _me = blanket_for(request.user, blanket_id)
        making = draft(blanket, colours_wanted(blanket))
        return Response(colours_json(making, making.colours))

    @extend_schema(
        request=ColoursBody,
        responses={200: PlannedColoursSerializer, 409: None},
        examples=examples.COLOURS,
    )
    def put(self, request: Request, blanket_id: int) -> Response:
        """Plan the colours anew, and give each square its colour. For organisers and coordinators.

        Squares that are coloured and begun, and those whose colour was chosen, keep theirs.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        wanted = _wanted(request, blanket)
        changed = plan_colours(blanket=blanket, by=me, wanted=wanted, now=timezone.now())
        making = draft(blanket, wanted)
        return Response({**colours_json(making, making.colours), "changed": named(changed)})


@extend_schema(tags=["colours"])
class ProposeColoursView(APIView):
    """A colour plan to look at."""

    @extend_schema(
        request=ColoursBody,
        responses={200: PlannedColoursSerializer, 409: None},
        examples=examples.COLOURS,
    )
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """What a PUT of the same would make of the blanket; no square is changed.

        Where there is no such plan, “helps” tells what was tried and would help. For organisers and
        coordinators.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        wanted = _wanted(request, blanket)
        spend_plan(me, timezone.now())
        making = draft(blanket, wanted)
        found = making.answer()
        if not isinstance(found, Coloured):
            raise no_colour_plan(found, helps=helps(making).items())
        now = making.colours
        then = now | found.colours
        if unplaced := lot_plan(making, then).unplaced:
            raise no_lot_plan(unplaced)
        changed = [place for place, name in then.items() if now.get(place) != name]
        return Response({**colours_json(making, then), "changed": named(changed)})


@extend_schema(tags=["colours"])
class PaletteView(APIView):
    """The palette and its rules alone."""

    @extend_schema(request=ColoursBody, responses=ColoursSerializer, examples=examples.COLOURS)
    def put(self, request: Request, blanket_id: int) -> Response:
        """Note what is wanted; no square is changed. For organisers and coordinators."""
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        wanted = _wanted(request, blanket)
        set_palette(blanket=blanket, by=me, wanted=wanted, now=timezone.now())
        making = draft(blanket, wanted)
        return Response(colours_json(making, making.colours))


@extend_schema(tags=["colours"])
class PaintView(APIView):
    """Colours by hand."""

    @extend_schema(request=PaintBody, responses=PlannedColoursSerializer, examples=examples.PAINT)
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Give these squares a colour for good. For organisers and coordinators.

        Finished squares keep theirs, if they have one: “changed” names those that have another now.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        require(me, Role.COORDINATOR)
        making = draft(blanket, colours_wanted(blanket))
        body = PaintBody(data=request.data, context={"making": making})
        body.is_valid(raise_exception=True)
        told = body.validated_data
        colours = dict.fromkeys(told["places"], told["colour"])
        changed = colour_squares(blanket=blanket, by=me, colours=colours, now=timezone.now())
        making = draft(blanket, colours_wanted(blanket))
        return Response({**colours_json(making, making.colours), "changed": named(changed)})


@extend_schema(tags=["colours"])
class PossibleColoursView(APIView):
    """The colours that one square may have."""

    @extend_schema(responses=PossibleColoursSerializer)
    def get(self, request: Request, blanket_id: int, place: str) -> Response:
        """Those in which the rest of the blanket can still be coloured by its rules.

        For whoever has the square in hand, organisers and coordinators; others read its colour.
        """
        square, me = square_for(request.user, blanket_id, place)
        choosing = square_rights(square, square.open_claim(), me).choose_colour
        told: dict[str, Any] = {
            "place": str(square),
            "colour": square.colour,
            "chosen": square.colour_fixed,
            "possible": None,
        }
        if choosing:
            spend_choice(me, timezone.now())
            making = draft(square.blanket, colours_wanted(square.blanket))
            possible = set(making.possible(square.place))
            hues = (hue for hue in making.wanted.palette if hue.name in possible)
            told["possible"] = [hue_json(hue) for hue in hues]
        return Response(told)


def _wanted(request: Request, blanket: Blanket) -> ColoursWanted:
    body = ColoursBody(data=request.data, context={"stocks": stock(blanket.drive.circle)})
    body.is_valid(raise_exception=True)
    return body.wanted()
