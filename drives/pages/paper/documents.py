"""Documents to print: asking for one, watching it being made, opening it."""

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import capfirst, slugify
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from accounts.access import may
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.paper.documents import request_document
from drives.actions.paper.kind import EVERYWHERE
from drives.actions.paper.sheets import give_up_lost_sheet
from drives.models import Blanket, Status
from drives.models.sheet import Trouble
from drives.pages.common.opened import opened
from drives.pages.common.waiting import Sentences, Waiting, renewed
from drives.pages.paper.print_form import PrintForm, offered
from drives.sheets.kinds import PRINTED
from drives.sheets.rights import document_for, require_asking

SAID = Sentences(
    making=gettext_lazy("It is being made."),
    then=gettext_lazy(
        "It opens by itself as soon as it is ready. You need not wait here: it will be kept."
    ),
    failed=gettext_lazy("This sheet could not be made."),
    mend=gettext_lazy(
        "Please ask for it again. If that does not help, tell whoever looks after the site."
    ),
)


@require_safe
@login_required
def print_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Every document that the reader may ask for, with its choices; ``places`` may be given."""
    blanket, me = blanket_for(request.user, blanket_id)
    squares = request.GET.get("places", "")[:20]
    return _ask(request, blanket, me, PrintForm(request, blanket, places=squares))


@require_POST
@login_required
def print_document(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Ask for a document; the one of this very state opens at once if it is there."""
    blanket, me = blanket_for(request.user, blanket_id)
    form = PrintForm(request, blanket)
    if form.is_valid():
        kind, options = PRINTED[form.cleaned_data["kind"]], form.options()
        require_asking(kind, blanket, me, options)
        done = form.carry_out(
            lambda: request_document(
                kind=kind, blanket=blanket, by=me, options=options, now=timezone.now()
            )
        )
        if done:
            form.remember(request)
            return opened(done.result)
    return _ask(request, blanket, me, form)


def _ask(request: SignedInRequest, blanket: Blanket, me: Member, form: PrintForm) -> HttpResponse:
    looks_after = may(me, Role.COORDINATOR)
    facts = {
        "form": form,
        "common": [form[name] for name in EVERYWHERE],
        "offered": list(offered(form, all_kinds=looks_after)),
        "looks_after": looks_after,
        "blanket": blanket,
        "drive": blanket.drive,
    }
    return render(request, "drives/paper/ask.html", facts, status=form.status)


@require_safe
@login_required
def sheet_page(request: SignedInRequest, sheet_id: int) -> HttpResponse:
    """How far the document is, and the way to its file."""
    sheet, me = document_for(request.user, sheet_id)
    waiting = Waiting(
        sheet=sheet,
        said=SAID,
        again=reverse("drives:sheet", args=[sheet_id]),
        done=reverse("drives:sheet_file", args=[sheet_id]),
    )
    if "seen" in request.GET:
        return renewed(request, waiting)
    kind = PRINTED[sheet.kind]
    facts = {
        "waiting": waiting,
        "sheet": sheet,
        "kind": kind,
        "heading": capfirst(str(kind.label)),
        "looks_after": may(me, Role.COORDINATOR),
        "blanket": sheet.blanket,
        "drive": sheet.blanket.drive,
    }
    return render(request, "drives/paper/sheet.html", facts)


@require_safe
@login_required
def sheet_file(request: SignedInRequest, sheet_id: int) -> HttpResponseBase:
    """The PDF, to be shown by the browser; if it is lost, the page that says so."""
    sheet, _me = document_for(request.user, sheet_id)
    if sheet.status != Status.DONE:
        raise Http404
    try:
        file = sheet.file.open()
    except FileNotFoundError:
        give_up_lost_sheet(sheet=sheet, error=Trouble.LOST)
        return redirect("drives:sheet", sheet_id)
    day = timezone.localdate(sheet.requested_at)
    name = f"{slugify(sheet.blanket.name) or 'blanket'}-{sheet.kind}-{day.isoformat()}.pdf"
    headers = {"Cache-Control": "private, no-cache"}
    return FileResponse(file, filename=name, content_type="application/pdf", headers=headers)
