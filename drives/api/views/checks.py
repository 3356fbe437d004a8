"""What goes against the rules of receivers, and what an organiser says of it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.access import require
from accounts.models import Role
from drives.access import blanket_for, drive_for, drives_of, yarn_for
from drives.actions.drives import rules
from drives.actions.refusals import no_conflict
from drives.api import examples
from drives.api.keys import caller
from drives.api.once import once
from drives.api.shapes.checks import (
    CheckSerializer,
    DriveCheckSerializer,
    NamedBody,
    OverruleBody,
    check_json,
    drive_check_json,
)
from drives.api.shapes.needs import BorderedBody
from drives.api.views.plan import spend_places
from drives.craft.layout.plan import plan
from drives.models import Drive
from drives.readings.checks import Check, check_named, checks_of_yarn, drive_checks, plan_checks


class _Listed(GenericAPIView[Any]):
    """A list in pages, what counts first."""

    def listed(self, told: Sequence[Any]) -> Response:
        return self.get_paginated_response(self.paginate_queryset(told))


@extend_schema(tags=["rules"])
class DriveChecksView(_Listed):
    """The conflicts of a drive."""

    @extend_schema(
        parameters=[OpenApiParameter("subject", description="Only of this, such as “yarn 5”.")],
        responses=CheckSerializer(many=True),
    )
    def get(self, request: Request, drive_id: int) -> Response:
        """Of its plans, its finished blankets, and all yarns of the store; what counts first."""
        drive, _me = drive_for(request.user, drive_id)
        wanted = request.query_params.get("subject")
        checks = drive_checks(drive, whole_store=True)
        return self.listed(
            [check_json(check) for check in checks if wanted in (None, check.subject)]
        )


@extend_schema(tags=["rules"])
class PlanChecksView(_Listed):
    """The conflicts of a layout."""

    invalid = "invalid-plan"
    rate = "plan"

    @extend_schema(
        request=BorderedBody, responses=CheckSerializer(many=True), examples=examples.LAYOUT
    )
    @once
    def post(self, request: Request, drive_id: int) -> Response:
        """What the receiver would refuse of a blanket before it is planned; nothing is stored."""
        drive, _me = drive_for(request.user, drive_id)
        body = BorderedBody(data=request.data)
        body.is_valid(raise_exception=True)
        layout, told = body.layout(), body.validated_data
        spend_places(request, layout)
        plan(layout)  # says what cannot be knitted
        checks = plan_checks(drive, layout, float(told["gauge"]), border=told["border"])
        return self.listed([check_json(check) for check in checks])


@extend_schema(tags=["rules"])
class BlanketChecksView(_Listed):
    """The conflicts of a blanket."""

    @extend_schema(responses=CheckSerializer(many=True))
    def get(self, request: Request, blanket_id: int) -> Response:
        """Of its plan, of the finished blanket, and of the yarns that its colours name."""
        blanket, _me = blanket_for(request.user, blanket_id)
        checks = drive_checks(blanket.drive, blanket=blanket)
        return self.listed([check_json(check) for check in checks])


@extend_schema(tags=["rules"])
class YarnChecksView(_Listed):
    """The conflicts of a yarn."""

    @extend_schema(responses=DriveCheckSerializer(many=True))
    def get(self, request: Request, yarn_id: int) -> Response:
        """With the rules of each drive of its circle."""
        yarn, _me = yarn_for(request.user, yarn_id)
        drives = drives_of(caller(request)).filter(circle=yarn.circle)
        found = checks_of_yarn(list(drives.select_related("circle", "receiver")), yarn)
        return self.listed([drive_check_json(drive, check) for drive, check in found])


@extend_schema(tags=["rules"])
class OverruleConflictView(APIView):
    """A conflict that does not count."""

    @extend_schema(
        request=OverruleBody, responses={200: CheckSerializer}, examples=examples.OVERRULE
    )
    @once
    def post(self, request: Request, drive_id: int) -> Response:
        """Overrule a conflict for a reason, which stays in the log. For organisers.

        Again: the first reason stays.
        """
        drive, me = drive_for(request.user, drive_id)
        require(me, Role.ORGANISER)
        body = OverruleBody(data=request.data)
        body.is_valid(raise_exception=True)
        check, now = _check(drive, body), timezone.now()
        reason = body.validated_data["reason"]
        said = rules.overrule_conflict(drive=drive, by=me, check=check, reason=reason, now=now)
        return Response(check_json(replace(check, overruled=said)))


@extend_schema(tags=["rules"])
class UpholdConflictView(APIView):
    """A conflict that counts again."""

    @extend_schema(request=NamedBody, responses={200: CheckSerializer}, examples=examples.UPHOLD)
    @once
    def post(self, request: Request, drive_id: int) -> Response:
        """Take the overruling back. For organisers. What counts already is answered as it is."""
        drive, me = drive_for(request.user, drive_id)
        require(me, Role.ORGANISER)
        body = NamedBody(data=request.data)
        body.is_valid(raise_exception=True)
        check = _check(drive, body)
        rules.uphold_conflict(drive=drive, by=me, check=check, now=timezone.now())
        return Response(check_json(replace(check, overruled=None)))


def _check(drive: Drive, body: NamedBody) -> Check:
    check = check_named(drive, body.key)
    if check is None:
        raise no_conflict()
    return check
