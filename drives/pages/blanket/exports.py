"""A blanket as files to take away."""

from collections.abc import Callable
from contextlib import nullcontext
from hashlib import sha256
from tempfile import SpooledTemporaryFile

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpResponse
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from accounts.access import require
from accounts.actions.limits import spend_by
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.exports import tables
from drives.exports.forms import FORMS, IN_MEMORY
from drives.exports.picture import in_turn, map_file, png
from drives.exports.tables import Table
from drives.models import Blanket, Ink
from drives.pages.common.log.line import event_line
from drives.pages.common.unchanged import unless_unchanged
from drives.readings.board import board_of

TABLES: dict[str, Callable[[Blanket], Table]] = {
    "squares": tables.squares,
    "claims": tables.claims,
    "events": lambda blanket: tables.events(blanket, event_line),
}
FOR_ALL = {"squares"}  # what the others gather about people is for those who look after them
PICTURES = {"svg": "image/svg+xml", "png": "image/png"}


@require_safe
@login_required
def export_table(request: SignedInRequest, blanket_id: int, name: str, form: str) -> FileResponse:
    """The table ``name`` as ``csv`` or ``xlsx``.

    It is written whole before it is sent, so that nobody gets half of one, but never held whole
    in memory.
    """
    blanket, me = blanket_for(request.user, blanket_id)
    if name not in TABLES or form not in FORMS:
        raise Http404
    if name not in FOR_ALL:
        require(me, Role.COORDINATOR)
    kind, write = FORMS[form]
    file = SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115 - the response closes it
    write(TABLES[name](blanket), file)
    file.seek(0)
    return FileResponse(
        file,
        as_attachment=True,
        filename=_named(blanket, name, form),
        content_type=kind,
        headers={"Cache-Control": "private, no-store"},
    )


@require_safe
@login_required
def map_picture(request: SignedInRequest, blanket_id: int, form: str) -> HttpResponse:
    """The map as ``svg`` or ``png``; with ``?ink=black`` without colour."""
    blanket, me = blanket_for(request.user, blanket_id)
    if form not in PICTURES:
        raise Http404
    with in_turn() if form == "png" else nullcontext():
        return _picture(request, blanket, me, form)


def _picture(request: SignedInRequest, blanket: Blanket, me: Member, form: str) -> HttpResponse:
    in_colour = request.GET.get("ink") != Ink.BLACK
    svg = map_file(board_of(blanket), timezone.now(), in_colour=in_colour)
    tag = f'"{form}-{sha256(svg.encode()).hexdigest()[:32]}"'

    def answer() -> HttpResponse:
        spend_by(me, "drawings", timezone.now())
        made = HttpResponse(png(svg) if form == "png" else svg, content_type=PICTURES[form])
        filename = _named(blanket, "map" if in_colour else "map-black", form)
        made.headers["Content-Disposition"] = content_disposition_header(True, filename)
        return made

    return unless_unchanged(request, tag, answer)


def _named(blanket: Blanket, what: str, form: str) -> str:
    today = timezone.localdate()
    return f"{slugify(blanket.name) or 'blanket'}-{what}-{today.isoformat()}.{form}"
