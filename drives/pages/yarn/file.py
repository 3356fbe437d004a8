"""The yarn store to a file, and from one."""

from tempfile import SpooledTemporaryFile

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from accounts.access import member_of, require
from accounts.actions.limits import spend_by
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.actions.yarn.import_file import Imported, import_yarns
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.notation import CARE_CODES
from drives.exports.forms import FORMS, IN_MEMORY
from drives.exports.yarn_file import COLUMNS, write_yarns
from drives.models import Yarn
from drives.pages.yarn.file_rows import FileForm
from drives.words.care import treatment_words
from shared.pages.methods import require_methods


@require_methods("GET", "POST")
@login_required
def yarn_file_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """What the file looks like, and bringing one: all of it is taken, or none."""
    me = member_of(request.user, circle_id)
    require(me, Role.COORDINATOR)
    sent = request.method == "POST"
    if sent:
        spend_by(me, "uploads", timezone.now())
    form = FileForm(request.POST, request.FILES) if sent else FileForm()
    done = form.carry_out(
        lambda: import_yarns(circle=me.circle, rows=form.rows, by=me, now=timezone.now())
    )
    if done:
        messages.success(request, _told(done.result))
        return redirect("drives:yarns", circle_id)
    facts = {
        "me": me,
        "form": form,
        "columns": COLUMNS.items(),
        "fibres": [fibre.value for fibre in Fibre],
        "care": [(code, treatment_words(value)) for code, (_kind, value) in CARE_CODES.items()],
    }
    return render(request, "drives/yarn/file.html", facts, status=form.status)


@require_safe
@login_required
def yarn_csv(request: SignedInRequest, circle_id: int) -> FileResponse:
    """The store as it is, in the form in which it can be brought again."""
    me = member_of(request.user, circle_id)
    require(me, Role.COORDINATOR)
    file = SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115 - the response closes it
    write_yarns(Yarn.objects.filter(circle=me.circle), file)
    file.seek(0)
    name = f"{slugify(me.circle.name) or 'circle'}-yarn-{timezone.localdate().isoformat()}.csv"
    return FileResponse(
        file,
        as_attachment=True,
        filename=name,
        content_type=FORMS["csv"][0],
        headers={"Cache-Control": "private, no-store"},
    )


def _told(done: Imported) -> str:
    if not done.added and not done.changed:
        return _("The store was as the file says already: nothing has changed.")
    told = _("Read: %(added)d new, %(changed)d changed.")
    return told % done._asdict()
