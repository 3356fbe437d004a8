"""What is done with a square: each call is one action."""

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import fellow_of, require
from accounts.models import Member, Role
from drives.access import square_for
from drives.actions.colours.plans import choose_colour
from drives.actions.squares import claims, finishing, weights
from drives.api.once import once
from drives.api.shapes.claims import ClaimBody, ClaimSerializer, ExtendBody
from drives.api.shapes.pieces import NextStepSerializer
from drives.api.shapes.squares import (
    ColourBody,
    ColouredSerializer,
    FinishedSerializer,
    SquareSerializer,
    WeighBody,
    WeighedSerializer,
    one_square_json,
)
from drives.models import Claim, Square
from drives.readings.next_steps import next_step_after
from drives.readings.weights import is_odd


@extend_schema(tags=["squares"])
class ClaimSquareView(APIView):
    """Taking a square."""

    @extend_schema(request=ClaimBody, responses={201: ClaimSerializer, 200: ClaimSerializer})
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Take the square, or have another ``member`` take it (organisers and coordinators).

        Again for the same member nothing changes, and the answer is 200.
        """
        square, me = square_for(request.user, blanket_id, place)
        body = ClaimBody(data=request.data)
        body.is_valid(raise_exception=True)
        knitter = _knitter(me, body.validated_data.get("member", me.pk))
        claim, new = claims.claim_square(square=square, member=knitter, by=me, now=timezone.now())
        return _claim(claim, square, 201 if new else 200)


@extend_schema(tags=["squares"])
class GiveBackSquareView(APIView):
    """Giving a square back."""

    @extend_schema(request=None, responses=ClaimSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Give the square back unfinished. For its member, organisers and coordinators."""
        square, me = square_for(request.user, blanket_id, place)
        return _claim(claims.give_back_square(square=square, by=me, now=timezone.now()), square)


@extend_schema(tags=["squares"])
class ExtendClaimView(APIView):
    """More time for a square."""

    @extend_schema(request=ExtendBody, responses=ClaimSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Give the square's member more days. For organisers and coordinators."""
        square, me = square_for(request.user, blanket_id, place)
        require(me, Role.COORDINATOR)
        body = ExtendBody(data=request.data)
        body.is_valid(raise_exception=True)
        days = body.validated_data["days"]
        return _claim(
            claims.extend_claim(square=square, by=me, days=days, now=timezone.now()), square
        )


@extend_schema(tags=["squares"])
class ReleaseClaimView(APIView):
    """Freeing a square."""

    @extend_schema(request=None, responses=ClaimSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Free a square that its member no longer works on. For organisers and coordinators."""
        square, me = square_for(request.user, blanket_id, place)
        require(me, Role.COORDINATOR)
        return _claim(claims.release_claim(square=square, by=me, now=timezone.now()), square)


@extend_schema(tags=["squares"])
class FinishSquareView(APIView):
    """Finishing a square."""

    @extend_schema(request=None, responses=FinishedSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Finish the square. For its member, organisers and coordinators.

        ``ready`` names the squares that can be begun now; it is empty when nothing changed.
        """
        square, me = square_for(request.user, blanket_id, place)
        done = finishing.finish_square(square=square, by=me, now=timezone.now())
        ready = [str(each) for each in done.ready]
        done.square.blanket = square.blanket
        step = next_step_after(done.square, timezone.localdate())
        told = NextStepSerializer(step).data if step else None
        return Response({**one_square_json(done.square), "ready": ready, "next": told})


@extend_schema(tags=["squares"])
class WeighSquareView(APIView):
    """Weighing a finished square."""

    @extend_schema(request=WeighBody, responses=WeighedSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Note what the square weighs. For its knitter, organisers and coordinators.

        Again with another weight corrects it.
        """
        square, me = square_for(request.user, blanket_id, place)
        body = WeighBody(data=request.data)
        body.is_valid(raise_exception=True)
        grams = body.validated_data["grams"]
        weighed = weights.weigh_square(square=square, by=me, grams=grams, now=timezone.now())
        told = {"grams": float(grams), "odd": is_odd(weighed)}
        return Response(one_square_json(weighed) | told)


@extend_schema(tags=["squares"])
class ChooseColourView(APIView):
    """Choosing a square's colour."""

    @extend_schema(request=ColourBody, responses={200: ColouredSerializer, 409: None})
    def put(self, request: Request, blanket_id: int, place: str) -> Response:
        """Knit the square in this colour. For whoever has it in hand, organisers and coordinators.

        The colour plan repairs itself around it: “changed” names the other squares.
        """
        square, me = square_for(request.user, blanket_id, place)
        body = ColourBody(data=request.data)
        body.is_valid(raise_exception=True)
        done = choose_colour(square=square, by=me, now=timezone.now(), **body.validated_data)
        done.square.blanket = square.blanket
        changed = [str(each) for each in done.others]
        return Response({**one_square_json(done.square), "changed": changed})


@extend_schema(tags=["squares"])
class RipBackSquareView(APIView):
    """Ripping a square back."""

    @extend_schema(request=None, responses=SquareSerializer)
    @once
    def post(self, request: Request, blanket_id: int, place: str) -> Response:
        """Make a finished square unfinished. For organisers and coordinators."""
        square, me = square_for(request.user, blanket_id, place)
        require(me, Role.COORDINATOR)
        ripped = finishing.rip_back_square(square=square, by=me, now=timezone.now())
        return Response(one_square_json(ripped))


def _knitter(me: Member, member_id: int) -> Member:
    """Who is to knit: the caller, or somebody for whom the caller may take squares."""
    if member_id == me.pk:
        require(me, Role.VOLUNTEER)
        return me
    require(me, Role.COORDINATOR)
    fellow = fellow_of(me, member_id)
    if Role.VOLUNTEER not in fellow.roles:
        sentence = _("%(name)s is not among those who knit here.") % {"name": fellow.name}
        raise serializers.ValidationError({"member": sentence})
    return fellow


def _claim(claim: Claim, square: Square, status: int = 200) -> Response:
    claim.square = square  # at hand already, so that its name costs no query
    return Response(ClaimSerializer(claim).data, status)
