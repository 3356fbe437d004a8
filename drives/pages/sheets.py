"""Documents to print: asking for one, watching it being made, opening it."""

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for, sheet_for
from drives.actions.sheets import request_sheet as ask
from drives.models import Kind, Options, Paper, Sheet, Status
from shared.forms import ActionForm

NOT_CHANGED = 204  # htmx then leaves the page as it is


class SheetForm(ActionForm):
    """What may be chosen about a document."""

    paper = forms.ChoiceField(label=gettext_lazy("Paper"), choices=Paper.choices)


@require_POST
@login_required
def request_sheet(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Ask for the status sheet; the one of this very state opens at once if it is there."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    form = SheetForm(request.POST)
    sheet = form.carry_out(
        lambda: ask(
            blanket=blanket,
            by=me,
            kind=Kind.STATUS,
            options=Options(paper=form.cleaned_data["paper"]).stored(),
            now=timezone.now(),
        )
    )
    if sheet is None:
        facts = {"form": form, "blanket": blanket, "drive": blanket.drive}
        return render(request, "drives/sheets/ask.html", facts, status=form.status)
    return opened(sheet)


@require_safe
@login_required
def sheet(request: SignedInRequest, sheet_id: int) -> HttpResponse:
    """How far the document is.

    htmx asks again with ``seen``, the standing that it shows, gets 204 while that is the same, and
    in the end is sent on to the file.
    """
    sheet = _sheet(request, sheet_id)
    seen = request.GET.get("seen")
    if seen is not None and sheet.status == Status.DONE:
        return HttpResponse(headers={"HX-Redirect": reverse("drives:sheet_file", args=[sheet_id])})
    standing = f"{sheet.status}-{sheet.progress}"
    if seen == standing:
        return HttpResponse(status=NOT_CHANGED)
    blanket = sheet.blanket
    facts = {
        "sheet": sheet,
        "standing": standing,
        "unfinished": sheet.status in (Status.QUEUED, Status.RENDERING),
        "blanket": blanket,
        "drive": blanket.drive,
    }
    template = "drives/sheets/sheet.html" + ("" if seen is None else "#standing")
    return render(request, template, facts)


@require_safe
@login_required
def sheet_file(request: SignedInRequest, sheet_id: int) -> FileResponse:
    """The PDF, to be shown by the browser."""
    sheet = _sheet(request, sheet_id)
    try:
        file = sheet.file.open() if sheet.status == Status.DONE else None
    except FileNotFoundError:
        file = None
    if file is None:
        raise Http404
    day = timezone.localdate(sheet.requested_at)
    name = f"{slugify(sheet.blanket.name) or 'blanket'}-{sheet.kind}-{day.isoformat()}.pdf"
    headers = {"Cache-Control": "private, no-cache"}
    return FileResponse(file, filename=name, content_type="application/pdf", headers=headers)


def opened(sheet: Sheet) -> HttpResponseRedirect:
    """To the file if it is there, else to where one can watch it being made."""
    return redirect(
        "drives:sheet_file" if sheet.status == Status.DONE else "drives:sheet", sheet.pk
    )


def _sheet(request: SignedInRequest, sheet_id: int) -> Sheet:
    """Whoever packs a bag needs its label; the status sheet is for those who look after others."""
    sheet, me = sheet_for(request.user, sheet_id)
    if sheet.kind != Kind.LABEL:
        require(me, Role.COORDINATOR)
    return sheet


urlpatterns = [
    path("blankets/<int:blanket_id>/sheets/", request_sheet, name="request_sheet"),
    path("sheets/<int:sheet_id>/", sheet, name="sheet"),
    path("sheets/<int:sheet_id>/file/", sheet_file, name="sheet_file"),
]
