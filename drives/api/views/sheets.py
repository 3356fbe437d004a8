"""Printable documents."""

from django.http import FileResponse, Http404
from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.renderers import BaseRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from drives.access import blanket_for
from drives.actions.paper.documents import request_document
from drives.actions.paper.sheets import give_up_lost_sheet
from drives.api.once import once
from drives.api.shapes.sheets import SheetBody, SheetSerializer
from drives.models import Status
from drives.models.sheet import Trouble
from drives.sheets.kinds import PRINTED
from drives.sheets.rights import document_for, require_asking
from shared.basics.refusals import Refused


class Pdf(BaseRenderer):
    """Says that a call answers with PDF; the file itself needs no rendering."""

    media_type = "application/pdf"
    format = "pdf"


@extend_schema(tags=["sheets"])
class SheetsView(APIView):
    """Asking for a document."""

    @extend_schema(request=SheetBody, responses={202: SheetSerializer, 409: None})
    @once
    def post(self, request: Request, blanket_id: int) -> Response:
        """Have a document made. For organisers and coordinators.

        Labels, and cards of squares that one has in hand or that are ready, are for everybody. As
        long as nothing has changed on the blanket, it is the document already there.
        """
        blanket, me = blanket_for(request.user, blanket_id)
        body = SheetBody(data=request.data, context={"blanket": blanket})
        body.is_valid(raise_exception=True)
        kind, options = PRINTED[body.validated_data["kind"]], body.options()
        require_asking(kind, blanket, me, options)
        sheet = request_document(
            kind=kind, blanket=blanket, by=me, options=options, now=timezone.now()
        )
        return Response(SheetSerializer(sheet, context={"request": request}).data, 202)


@extend_schema(tags=["sheets"])
class SheetView(APIView):
    """One document."""

    @extend_schema(responses=SheetSerializer)
    def get(self, request: Request, sheet_id: int) -> Response:
        """How far the document is. For organisers and coordinators; labels and cards for all."""
        sheet, _me = document_for(request.user, sheet_id)
        return Response(SheetSerializer(sheet, context={"request": request}).data)


@extend_schema(tags=["sheets"])
class SheetFileView(APIView):
    """The document itself."""

    renderer_classes = [Pdf]
    http_method_names = ["get", "head"]  # it could not tell its OPTIONS as PDF

    @extend_schema(responses={(200, Pdf.media_type): OpenApiTypes.BINARY, 409: None, 503: None})
    def get(self, request: Request, sheet_id: int) -> FileResponse:
        """The PDF, as soon as it is made.

        For organisers and coordinators; labels and cards for all.
        """
        sheet, _me = document_for(request.user, sheet_id)
        if sheet.status != Status.DONE:
            raise Refused("sheet-not-made", _("This sheet is not made yet."), sheet=sheet.status)
        try:
            file = sheet.file.open()
        except FileNotFoundError:
            give_up_lost_sheet(sheet=sheet, error=Trouble.LOST)
            raise Http404 from None
        return FileResponse(file, content_type=Pdf.media_type)
