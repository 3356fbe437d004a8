"""What coordinators say to the rota: all of it, or one square."""

from datetime import date

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from accounts.access import require
from accounts.models import Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for, square_for
from drives.actions.squares import rota
from drives.models import Square
from drives.pages.common.who import WhoForm
from drives.readings.rota import assigned
from shared.pages.forms import ActionForm, DateField, posted
from shared.pages.methods import require_methods


class AcceptForm(ActionForm):
    """The rota that was seen, by when it was made."""

    seen = forms.DateTimeField(widget=forms.HiddenInput, required=False)


class LineForm(WhoForm):
    """Whom a square is for, and from when on."""

    begin = DateField(label=gettext_lazy("To be begun on"))


@require_methods("GET", "POST")
@login_required
def accept_rota(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Accept all that the rota has, as it was seen."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    form = AcceptForm(posted(request), initial={"seen": request.GET.get("seen")})
    done = form.carry_out(
        lambda: rota.accept_rota(
            blanket=blanket, seen=form.cleaned_data["seen"], by=me, now=timezone.now()
        )
    )
    if done:
        accepted = ngettext(
            "%(count)d square is planned now.", "%(count)d squares are planned now.",
            len(done.result),
        )  # fmt: skip
        messages.success(request, accepted % {"count": len(done.result)})
        return _rota(blanket_id)
    return confirm(
        request,
        form,
        heading=_("Accept the rota of %(blanket)s?") % {"blanket": blanket},
        consequences=[
            _("Each square is then planned for its knitter, who sees that on Home."),
            _("It stays so when the rota is worked out anew, until somebody takes the square."),
            _("Nobody is bound by it, and you can change or take back any of it."),
        ],
        submit=_("Accept it"),
        back=reverse("drives:rota", args=[blanket_id]),
    )


@require_methods("GET", "POST")
@login_required
def take_back(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Take back all that was said to the rota."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    if request.method == "POST":
        rota.take_back(blanket=blanket, places=None, by=me, now=timezone.now())
        messages.success(request, _("Nothing is planned any more."))
        return _rota(blanket_id)
    return confirm(
        request,
        ActionForm(),
        heading=_("Take back what is planned for %(blanket)s?") % {"blanket": blanket},
        consequences=[_("The rota then shares out all squares anew.")],
        submit=_("Take it back"),
        back=reverse("drives:rota", args=[blanket_id]),
    )


@require_methods("GET", "POST")
@login_required
def accept_line(request: SignedInRequest, blanket_id: int, place: str) -> HttpResponse:
    """Plan one square for somebody: as the rota has it, or otherwise."""
    square, me = square_for(request.user, blanket_id, place)
    require(me, Role.COORDINATOR)
    form = LineForm(posted(request), by=me, initial=_as_it_is(square))
    done = form.carry_out(
        lambda: rota.accept_line(square=square, by=me, now=timezone.now(), **form.cleaned_data)
    )
    if done:
        told = {"place": square, "name": form.cleaned_data["member"]}
        messages.success(request, _("%(place)s is planned for %(name)s.") % told)
        return _rota(blanket_id)
    return _line(request, square, form)


@require_methods("POST")
@login_required
def decline_line(request: SignedInRequest, blanket_id: int, place: str) -> HttpResponse:
    """The square is not for this member."""
    square, me = square_for(request.user, blanket_id, place)
    require(me, Role.COORDINATOR)
    form = WhoForm(request.POST, by=me)
    done = form.carry_out(
        lambda: rota.decline_line(
            square=square, member=form.cleaned_data["member"], by=me, now=timezone.now()
        )
    )
    if done:
        told = {"place": square, "name": form.cleaned_data["member"]}
        messages.success(request, _("%(place)s is not for %(name)s.") % told)
        return _rota(blanket_id)
    return _line(request, square, form)


@require_methods("POST")
@login_required
def take_back_line(request: SignedInRequest, blanket_id: int, place: str) -> HttpResponse:
    """Take back what was said about one square."""
    square, me = square_for(request.user, blanket_id, place)
    require(me, Role.COORDINATOR)
    rota.take_back(blanket=square.blanket, places=[square.place], by=me, now=timezone.now())
    messages.success(request, _("%(place)s is not planned any more.") % {"place": square})
    return _rota(blanket_id)


def _as_it_is(square: Square) -> dict[str, object]:
    """What the rota has for the square."""
    today = timezone.localdate()
    for each in assigned([square.blanket], today).get(square.blanket_id, ()):
        if each["place"] == str(square):
            return {
                "member": each["member"],
                "begin": max(date.fromisoformat(each["begin"]), today),
            }
    return {"begin": today}


def _line(request: SignedInRequest, square: Square, form: WhoForm) -> HttpResponse:
    lines = square.rota_lines.select_related("member")
    facts = {
        "square": square,
        "blanket": square.blanket,
        "drive": square.blanket.drive,
        "form": form,
        "meant": form["member"].value() or form.initial.get("member"),
        "said": list(lines),
        "heading": _("Who begins %(place)s?") % {"place": square},
    }
    return render(request, "drives/forecast/rota_line.html", facts, status=form.status)


def _rota(blanket_id: int) -> HttpResponseRedirect:
    return redirect("drives:rota", blanket_id)
