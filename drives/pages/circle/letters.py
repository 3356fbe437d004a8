"""Which letters somebody gets: chosen when signed in, or turned off by one press from a letter."""

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.csrf import csrf_exempt

from accounts.access import may, member_of
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import letters_for
from drives.actions.circles.letters import choose_letters, wants_letter
from drives.models import Subject
from drives.models.letter import FOR_COORDINATORS
from shared.pages.forms import ActionForm, posted
from shared.pages.methods import require_methods


class LettersForm(ActionForm):
    """The kinds of letters that there are for the member, each to be ticked."""

    wanted = forms.MultipleChoiceField(
        label=gettext_lazy("Write to me"), required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, sent: QueryDict | None, member: Member) -> None:
        kinds = kinds_for(member)
        super().__init__(
            sent, initial={"wanted": [kind for kind in kinds if wants_letter(member, kind)]}
        )
        self.offer("wanted", [(kind.value, kind.label) for kind in kinds])


def kinds_for(member: Member) -> list[Subject]:
    """What the site may write to somebody with these roles about."""
    looks_after = may(member, Role.COORDINATOR)
    return [kind for kind in Subject if looks_after or kind not in FOR_COORDINATORS]


@require_methods("GET", "POST")
@login_required
def letters_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """The member's choice."""
    me = member_of(request.user, circle_id)
    form = LettersForm(posted(request), me)
    if form.is_valid():
        for kind in kinds_for(me):
            choose_letters(member=me, subject=kind, wanted=kind in form.cleaned_data["wanted"])
        messages.success(request, _("Your choice is noted."))
        return redirect("drives:letters", circle_id)
    return render(
        request, "drives/circle/letters.html", {"me": me, "form": form}, status=form.status
    )


@csrf_exempt
@require_methods("GET", "POST")
def letters_off(request: HttpRequest, signed: str) -> HttpResponse:
    """Turns the letters off that the link came with, for whoever has it.

    Only a POST does: programs that look at links open them all. A mail program may send it by
    itself (RFC 8058), from nowhere in particular: so it needs neither session nor token, and is
    not sent on. With ``again`` it turns them on.
    """
    member, subject = letters_for(signed)
    if subject is None:
        return render(request, "drives/circle/letters_gone.html", {"circle": member.circle})
    if request.method == "POST":
        choose_letters(member=member, subject=subject, wanted="again" in request.POST)
    facts = {
        "circle": member.circle,
        "kind": subject.label,
        "wanted": wants_letter(member, subject),
    }
    return render(request, "drives/circle/letters_off.html", facts)
