"""Who may have a document made, and who may read it."""

from django.http import Http404

from accounts.access import may, require
from accounts.models import Member, Role
from drives.access import ForSheet, Visitor, sheet_for
from drives.models import Blanket, Options

from .kind import Document
from .kinds import PRINTED


def require_asking(kind: Document, blanket: Blanket, member: Member, options: Options) -> None:
    """PermissionDenied unless the member may have this document of the blanket made."""
    if not may(member, Role.COORDINATOR) and not kind.members_ask(blanket, member, options):
        require(member, Role.COORDINATOR)


def document_for(user: Visitor, sheet_id: int) -> ForSheet:
    """A printed document that the user may read: 404 for strangers, else PermissionDenied.

    What is no printed one is shown with its blanket, and is not found here.
    """
    sheet, member = sheet_for(user, sheet_id)
    kind = PRINTED.get(sheet.kind)
    if kind is None:
        raise Http404
    if not kind.members_read:
        require(member, Role.COORDINATOR)
    return ForSheet(sheet, member)
