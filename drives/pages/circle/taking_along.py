"""Everything that is kept of oneself, or of a circle, as one file."""

from collections.abc import Callable
from tempfile import SpooledTemporaryFile
from typing import IO

from django.contrib.auth.decorators import login_required
from django.http import FileResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from accounts.access import member_of, memberships_of, require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.exports.forms import IN_MEMORY
from drives.exports.told import write_circle, write_person
from shared.pages.methods import require_methods


@require_methods("GET", "POST")
@login_required
def my_data(request: SignedInRequest) -> HttpResponseBase:
    """What is kept of the reader; by a press as a file."""
    memberships_of(request.user)
    if request.method == "POST":
        return _file("mitrewise-of-me", lambda file: write_person(request.user, file))
    return render(request, "drives/circle/my_data.html")


@require_safe
@login_required
def circle_data(request: SignedInRequest, circle_id: int) -> FileResponse:
    """Everything of the circle as a file, for those who organise it."""
    me = member_of(request.user, circle_id)
    require(me, Role.ORGANISER)
    name = slugify(me.circle.name) or "circle"
    return _file(name, lambda file: write_circle(me.circle, file))


def _file(name: str, write: Callable[[IO[bytes]], None]) -> FileResponse:
    """Written whole before it is sent, so that nobody gets half of it."""
    file = SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115 - the response closes it
    write(file)
    file.seek(0)
    return FileResponse(
        file,
        as_attachment=True,
        filename=f"{name}-{timezone.localdate().isoformat()}.zip",
        content_type="application/zip",
        headers={"Cache-Control": "private, no-store"},
    )
