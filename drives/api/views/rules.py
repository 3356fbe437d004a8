"""What a receiver asks."""

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import drive_for
from drives.actions.drives.rules import note_rules
from drives.api import examples
from drives.api.shapes.rules import RulesBody, RulesSerializer, rules_json
from drives.models import Receiver


@extend_schema(tags=["rules"])
class RulesView(APIView):
    """The rules of a drive's receiver."""

    @extend_schema(responses=RulesSerializer)
    def get(self, request: Request, drive_id: int) -> Response:
        """What the receiver asks, who said so, and what is usually minded for such blankets."""
        drive, _me = drive_for(request.user, drive_id)
        receiver: Receiver | None = getattr(drive, "receiver", None)
        return Response(rules_json(drive, receiver))

    @extend_schema(request=RulesBody, responses=RulesSerializer, examples=examples.RULES)
    def put(self, request: Request, drive_id: int) -> Response:
        """Write the rules down, all of them. For organisers."""
        drive, me = drive_for(request.user, drive_id)
        require(me, Role.ORGANISER)
        body = RulesBody(data=request.data)
        body.is_valid(raise_exception=True)
        note_rules(drive=drive, by=me, now=timezone.now(), **body.validated_data)
        drive, _me = drive_for(request.user, drive_id)
        return Response(rules_json(drive, drive.receiver))
