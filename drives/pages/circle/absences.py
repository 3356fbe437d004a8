"""Days on which somebody does not knit: their own, or noted for those on paper."""

from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from accounts.access import member_of
from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.access import absence_of, absences_of
from drives.actions.circles import calendar
from drives.pages.common.fields import ask_whose
from shared.pages.forms import ActionForm, DateField, posted
from shared.pages.methods import require_methods


class AbsenceForm(ActionForm):
    """Whose days, and which; coordinators may note them for anybody."""

    member = forms.ModelChoiceField(
        Member.objects.none(), label=gettext_lazy("Who"), empty_label=None
    )
    first = DateField(label=gettext_lazy("From"))
    last = DateField(label=gettext_lazy("Until, this day included"))

    def __init__(self, sent: QueryDict | None, by: Member) -> None:
        super().__init__(sent, initial={"member": by.pk})
        ask_whose(self, by)

    def clean(self) -> dict[str, Any]:
        sent = self.cleaned_data
        if "first" in sent and "last" in sent and sent["last"] < sent["first"]:
            self.add_error("last", _("The last day comes before the first."))
        return sent


@require_methods("GET", "POST")
@login_required
def absences_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """The days to come on which the reader is away; for coordinators, everybody's."""
    me = member_of(request.user, circle_id)
    form = AbsenceForm(posted(request), by=me)
    if form.carry_out(
        lambda: calendar.add_absence(
            **{"member": me} | form.cleaned_data, by=me, now=timezone.now()
        )
    ):
        messages.success(request, _("The days are noted."))
        return redirect("drives:absences", circle_id)
    facts = {"me": me, "form": form, "absences": absences_of(me)}
    return render(request, "drives/circle/absences.html", facts, status=form.status)


@require_POST
@login_required
def drop_absence(request: SignedInRequest, circle_id: int, absence_id: int) -> HttpResponse:
    """Take the days back."""
    me = member_of(request.user, circle_id)
    absence = absence_of(me, absence_id)
    calendar.drop_absence(absence=absence, by=me, now=timezone.now())
    messages.success(request, _("The days are taken off the list."))
    return redirect("drives:absences", circle_id)
