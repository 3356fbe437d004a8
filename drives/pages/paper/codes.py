"""Where the codes on paper lead, and what makes those that were printed lead nowhere."""

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.cache import never_cache

from accounts.access import member_of, require
from accounts.models import Member, Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for, code_for
from drives.actions.paper.codes import renew_codes
from drives.actions.paper.finders import leave_note
from drives.models import Blanket, Code, Piece, Square
from drives.pages.pieces.decorators import on_piece
from drives.pages.square.decorator import on_square
from shared.pages.forms import ActionForm, posted
from shared.pages.methods import require_methods


class NoteForm(ActionForm):
    """What a finder has to say."""

    text = forms.CharField(
        label=gettext_lazy("Your message"),
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text=gettext_lazy("Where you found it, and how it can be fetched."),
    )
    contact = forms.CharField(
        label=gettext_lazy("How to reach you"),
        max_length=200,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text=gettext_lazy(
            "A telephone number or an e-mail address. Only the coordinators see it, "
            "and it is wiped as soon as one of them has seen to your message."
        ),
    )


@never_cache
@require_methods("GET", "POST")
def code_page(request: HttpRequest, link: str) -> HttpResponse:
    """The people of its circle are sent to the square or the piece; others can leave a message.

    What others see says nothing of what the code stands on, nor of whose it is.
    """
    try:
        found = code_for(link)
    except Http404:
        answer = render(request, "drives/paper/code_out_of_date.html", status=404)
    else:
        answer = _found(request, found)
    answer.headers["X-Robots-Tag"] = "noindex, nofollow"
    return answer


def _found(request: HttpRequest, found: Code) -> HttpResponse:
    if request.method != "POST" and _among_friends(request, found):
        return redirect(_page_of(found.target))
    form = NoteForm(posted(request))
    if form.carry_out(lambda: leave_note(code=found, now=timezone.now(), **form.cleaned_data)):
        messages.success(request, _("Thank you! The coordinator gets your message."))
        return redirect(request.path)
    return render(request, "drives/paper/found.html", {"form": form}, status=form.status)


def _among_friends(request: HttpRequest, found: Code) -> bool:
    try:
        member_of(request.user, found.blanket.drive.circle_id)
    except Http404:
        return False
    return True


def _page_of(target: Square | Piece) -> str:
    if isinstance(target, Square):  # who does not hold it is led on to its card
        return reverse("drives:knit", args=[target.blanket_id, target.place])
    return reverse("drives:piece", args=[target.pk])


@on_square("GET", "POST")
def renew_square_code(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """What was printed for the square up to now leads nowhere any more."""
    heading = _("Renew the code of %(place)s?") % {"place": square}
    return _renew(request, square.blanket, me, heading, square)


@on_piece("GET", "POST")
def renew_piece_code(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """What was printed for the piece up to now leads nowhere any more."""
    heading = _("Renew the code of piece %(piece)s?") % {"piece": piece}
    return _renew(request, piece.blanket, me, heading, piece)


@require_methods("GET", "POST")
@login_required
def renew_all_codes(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Nothing that was printed for the blanket up to now leads anywhere any more."""
    blanket, me = blanket_for(request.user, blanket_id)
    heading = _("Renew all codes of %(blanket)s?") % {"blanket": blanket}
    return _renew(request, blanket, me, heading)


def _renew(
    request: SignedInRequest,
    blanket: Blanket,
    me: Member,
    heading: str,
    target: Square | Piece | None = None,
) -> HttpResponse:
    require(me, Role.COORDINATOR)
    back = _page_of(target) if target else reverse("drives:blanket", args=[blanket.pk])
    form = ActionForm(posted(request))
    done = form.carry_out(
        lambda: renew_codes(blanket=blanket, by=me, now=timezone.now(), target=target)
    )
    if not done:
        return confirm(
            request,
            form,
            heading=heading,
            consequences=[
                _("Whoever scans what was printed up to now is told that it is out of date."),
                _("What you print from now on bears a new code. It cannot be undone."),
            ],
            submit=_("Renew"),
            back=back,
        )
    ended = done.result
    told = ngettext(
        "%(count)d code leads nowhere any more.", "%(count)d codes lead nowhere any more.", ended
    )
    messages.success(
        request, told % {"count": ended} if ended else _("No code has been printed since.")
    )
    return redirect(back)
