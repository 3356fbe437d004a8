"""The receiver of a drive: what they ask, what goes against it, and what is overruled."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from accounts.access import require
from accounts.models import Event, Member, Role, Topic
from accounts.pages.signed_in import SignedInRequest
from drives.access import drive_for
from drives.actions.drives import rules
from drives.actions.refusals import no_conflict
from drives.craft.receivers.typical import ReceiverKind
from drives.models import Drive, Receiver
from drives.pages.common.log.line import log_lines
from drives.pages.rules.form import RulesForm, initial
from drives.pages.rules.words import kinds, rules_in_words
from drives.readings.checks import Check, cautions_of, check_named, drive_checks, rules_of
from drives.words.cautions import caution_words
from drives.words.receivers import kind_words
from shared.pages.forms import ActionForm
from shared.pages.methods import require_methods

VERBS = ("rules-noted", "overruled", "upheld")
NEWEST = 10  # lines of the log


class OverruleForm(ActionForm):
    """Why a conflict does not count; the hidden fields name it."""

    reason = forms.CharField(label=gettext_lazy("Why it does not count"), max_length=300)
    subject = forms.CharField(widget=forms.HiddenInput)
    code = forms.CharField(widget=forms.HiddenInput)
    about = forms.CharField(required=False, widget=forms.HiddenInput)


@require_methods("GET", "POST")
@login_required
def rules_page(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """What the receiver asks, for every member; organisers write it down."""
    drive, me = drive_for(request.user, drive_id)
    if request.method != "POST":
        return _page(request, drive, me)
    require(me, Role.ORGANISER)
    form = RulesForm(request.POST, circle=drive.circle, initial={})
    done = form.carry_out(
        lambda: rules.note_rules(
            drive=drive,
            by=me,
            now=timezone.now(),
            rules=form.rules(),
            **{name: form.cleaned_data[name] for name in ("kind", "country", "told_by", "told_on")},
        )
    )
    if not done:
        return _page(request, drive, me, form=form)
    if done.result.confirmed:
        messages.success(request, _("The receiver’s rules are written down."))
    else:
        messages.warning(request, _("Written down, to be confirmed: ask the receiver."))
    return redirect("drives:rules", drive_id)


@require_POST
@login_required
def overrule_conflict(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """One conflict does not count, for a reason."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    form, check = OverruleForm(request.POST), _named(request, drive)
    if check:
        done = form.carry_out(
            lambda: rules.overrule_conflict(
                drive=drive,
                by=me,
                check=check,
                reason=form.cleaned_data["reason"],
                now=timezone.now(),
            )
        )
        if not done:
            return _page(request, drive, me, refused=form)
    return _to_conflicts(drive)


@require_POST
@login_required
def uphold_conflict(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """It counts again."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    if check := _named(request, drive):
        rules.uphold_conflict(drive=drive, by=me, check=check, now=timezone.now())
    return _to_conflicts(drive)


def _named(request: SignedInRequest, drive: Drive) -> Check | None:
    """The conflict that was pressed, unless it is mended by now."""
    sent = request.POST
    key = sent.get("subject", ""), sent.get("code", ""), sent.get("about", "")
    found = check_named(drive, key)
    if found is None:
        messages.info(request, no_conflict().detail)
    return found


def _to_conflicts(drive: Drive) -> HttpResponse:
    return redirect(reverse("drives:rules", args=[drive.pk]) + "#conflicts")


def _page(
    request: SignedInRequest,
    drive: Drive,
    me: Member,
    *,
    form: RulesForm | None = None,
    refused: OverruleForm | None = None,
) -> HttpResponse:
    """``form`` or ``refused`` is the one that was sent and is not right."""
    receiver: Receiver | None = getattr(drive, "receiver", None)
    typical = request.GET.get("typical", "")
    typical = typical if typical in tuple(ReceiverKind) else ""
    writes = me.is_organiser
    shown = form or RulesForm(None, circle=drive.circle, initial=initial(drive, receiver, typical))
    events = Event.objects.about(Topic.DRIVE, drive.pk).filter(verb__in=VERBS)
    newest = events.select_related("by", "circle")[:NEWEST]
    facts = {
        "drive": drive,
        "me": me,
        "receiver": receiver,
        "told": rules_in_words(drive, rules_of(drive), receiver),
        "began_with": kind_words(receiver.kind) if receiver else "",
        "form": shown if writes else None,
        "open": form is not None or typical or receiver is None,
        "typical": kind_words(typical),
        "kinds": kinds(),
        "checks": _with_forms(drive_checks(drive, whole_store=True), refused, writes=writes),
        "cautions": caution_words(*cautions_of(drive)),
        "events": log_lines(newest),
    }
    status = max(each.status if each else 200 for each in (form, refused))
    return render(request, "drives/rules/rules.html", facts, status=status)


def _with_forms(
    checks: Sequence[Check], refused: OverruleForm | None, *, writes: bool
) -> list[tuple[Check, Any]]:
    """Each conflict with the form to overrule it, for those who may."""
    asked = refused and tuple(refused[name].value() or "" for name in ("subject", "code", "about"))
    return [
        (check, writes and (refused if check.key == asked else _form(number, check)))
        for number, check in enumerate(checks)
    ]


def _form(number: int, check: Check) -> OverruleForm:
    named = dict(zip(("subject", "code", "about"), check.key, strict=True))
    return OverruleForm(initial=named, auto_id=f"conflict-{number}-%s")
