"""How a piece gets from one to the other: agreed, on its way, there."""

from datetime import date
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.actions.pieces import hand_overs
from drives.actions.rights import piece_rights
from drives.models import HandOver, HandOverWay, Piece
from drives.pages.common import consequences
from drives.pages.pieces.decorators import on_hand_over, on_piece, to_piece
from drives.readings.meetings import exchanges
from shared.pages.forms import ActionForm, DateField, posted


class ArrangeForm(ActionForm):
    """Who gets the piece, how and when; who only waits for it can arrange for themselves alone."""

    receiver = forms.ModelChoiceField(
        Member.objects.none(),
        label=gettext_lazy("Who gets it"),
        empty_label=gettext_lazy("Choose somebody"),
    )
    way = forms.ChoiceField(
        label=gettext_lazy("How it gets there"),
        choices=HandOverWay.choices,
        initial=HandOverWay.HAND,
        widget=forms.RadioSelect,
    )
    day = DateField(label=gettext_lazy("When"), required=False)

    def __init__(self, *args: Any, piece: Piece, by: Member, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        knitters = by.circle.members.present().volunteers()
        free = piece_rights(piece, by, in_line=False).give
        self.offer(
            "receiver", knitters.exclude(pieces=piece) if free else knitters.filter(pk=by.pk)
        )
        drive, today = piece.blanket.drive, timezone.localdate()
        self.next_meeting: date | None = exchanges([drive], today).get(drive.pk)
        if self.next_meeting:
            self.fields["way"].initial = HandOverWay.MEETING
        else:
            noted = drive.meetings.filter(day__gte=today).first()
            self.next_meeting = noted.day if noted else None
        if self.next_meeting:
            day = date_format(self.next_meeting, "MONTH_DAY_FORMAT")
            self.fields["day"].help_text = _("The next meeting is on %(day)s.") % {"day": day}

    def clean(self) -> dict[str, Any]:
        """At a meeting, if no day is named, means at the next one."""
        sent = self.cleaned_data
        if sent.get("way") == HandOverWay.MEETING and not sent.get("day") and self.next_meeting:
            sent["day"] = self.next_meeting
        return sent


class SentForm(ActionForm):
    """What helps the receiver to find it."""

    note = forms.CharField(
        label=gettext_lazy("Tracking note"),
        max_length=200,
        required=False,
        help_text=gettext_lazy(
            "The number on the receipt, or where you left it. "
            "Only the two of you and the coordinators see it, until it has arrived."
        ),
    )


@on_piece("GET", "POST")
def arrange_hand_over(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """Agree who gets the piece next."""
    first = piece.turns.waiting().first()
    asked = request.GET.get("to") or (first.member_id if first else None)
    sent = posted(request)
    form = ArrangeForm(sent, piece=piece, by=me, initial={"receiver": asked})
    done = form.carry_out(
        lambda: hand_overs.arrange_hand_over(
            piece=piece, by=me, now=timezone.now(), **form.cleaned_data
        )
    )
    if done:
        told = {"piece": piece.name, "name": done.result.receiver.name}
        messages.success(request, _("The piece %(piece)s goes to %(name)s next.") % told)
        return to_piece(piece)
    return confirm(
        request,
        form,
        heading=_("Who gets the piece %(piece)s next?") % {"piece": piece.name},
        consequences=consequences.arranging(piece),
        submit=_("That is agreed"),
        back=reverse("drives:piece", args=[piece.pk]),
    )


@on_hand_over("GET", "POST")
def send_piece(request: SignedInRequest, hand_over: HandOver, me: Member) -> HttpResponse:
    """The piece has left the giver's hands."""
    form = SentForm(posted(request))
    if form.is_valid():
        note = form.cleaned_data["note"]
        hand_overs.send_piece(hand_over=hand_over, note=note, by=me, now=timezone.now())
        messages.success(request, _("It is on its way to %(name)s.") % _names(hand_over))
        return to_piece(hand_over.piece)
    return confirm(
        request,
        form,
        heading=_("Is the piece %(piece)s on its way?") % _names(hand_over),
        consequences=[],
        submit=_("It is on its way"),
        back=reverse("drives:piece", args=[hand_over.piece_id]),
    )


@on_hand_over("POST")
def receive_piece(request: SignedInRequest, hand_over: HandOver, me: Member) -> HttpResponse:
    """The receiver has the piece."""
    hand_overs.receive_piece(hand_over=hand_over, by=me, now=timezone.now())
    messages.success(request, _("The piece %(piece)s is with %(name)s now.") % _names(hand_over))
    return to_piece(hand_over.piece)


@on_hand_over("GET", "POST")
def cancel_hand_over(request: SignedInRequest, hand_over: HandOver, me: Member) -> HttpResponse:
    """The hand-over does not take place."""
    if request.method == "POST":
        hand_overs.cancel_hand_over(hand_over=hand_over, by=me, now=timezone.now())
        messages.success(request, _("The piece %(piece)s stays where it is.") % _names(hand_over))
        return to_piece(hand_over.piece)
    return confirm(
        request,
        ActionForm(),
        heading=_("Cancel this hand-over?"),
        consequences=consequences.cancelling(hand_over),
        submit=_("Cancel it"),
        back=reverse("drives:piece", args=[hand_over.piece_id]),
    )


@on_hand_over("POST")
def tell_contact(request: SignedInRequest, hand_over: HandOver, me: Member) -> HttpResponse:
    """Giver or receiver tells the other how to reach them, or takes it back."""
    # PostgreSQL stores no NUL, and nobody types one.
    told = request.POST.get("contact", "").replace("\0", "").strip()
    hand_overs.tell_contact(hand_over=hand_over, by=me, contact=told)
    other = hand_over.receiver if hand_over.giver_id == me.pk else hand_over.giver
    if told:
        sentence = _("%(name)s can see it now, and nobody else.") % {"name": other}
    else:
        sentence = _("It is wiped.")
    messages.success(request, sentence)
    return to_piece(hand_over.piece)


def _names(hand_over: HandOver) -> dict[str, str]:
    return {"piece": hand_over.piece.name, "name": hand_over.receiver.name}
