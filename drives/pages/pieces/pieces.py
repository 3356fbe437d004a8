"""Pieces: where they are, who waits for them, and what becomes of them."""

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
from django.views.decorators.http import require_safe

from accounts.access import fellow_of, require, require_to_act_for
from accounts.models import Member, Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.paper.documents import request_document
from drives.actions.pieces import hand_overs, loss, queue
from drives.models import Mode, Options, Paper, Piece
from drives.pages.common import consequences
from drives.pages.common.opened import opened
from drives.pages.common.passing import how_pieces_go_on
from drives.pages.common.picture import board_picture, signs
from drives.pages.pieces import card
from drives.pages.pieces.decorators import on_piece, to_piece
from drives.readings.board import board_of
from drives.sheets.kinds import LABEL
from shared.pages.forms import ActionForm, posted


class WithForm(ActionForm):
    """Who really has a piece."""

    member = forms.ModelChoiceField(
        Member.objects.none(),
        label=gettext_lazy("Who has it"),
        empty_label=gettext_lazy("Choose somebody"),
    )

    def __init__(self, *args: Any, piece: Piece, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        present = piece.blanket.drive.circle.members.present()
        self.offer("member", present.exclude(pieces=piece))


@require_safe
@login_required
def pieces_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Every piece of a blanket, with the map that shows them."""
    blanket, me = blanket_for(request.user, blanket_id)
    board = board_of(blanket)
    cards = card.cards(board, me)
    outlined = [each.there for each in cards]
    facts = {
        "me": me,
        "blanket": blanket,
        "drive": blanket.drive,
        "travels": blanket.drive.mode == Mode.TRAVELLING,
        "cards": cards,
        "passing": how_pieces_go_on(blanket.drive, timezone.localdate()),
        "map": board_picture(board, me, timezone.now(), outlined),
        "signs": signs(board, outlined),
    }
    return render(request, "drives/pieces/pieces.html", facts)


@on_piece("GET")
def piece_page(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """The piece's own page, to which the code on its bag leads."""
    return card.page(request, piece, me)


@on_piece("POST")
def take_piece(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """The reader has the piece in their hands, by right."""
    hand_overs.take_piece(piece=piece, by=me, now=timezone.now())
    messages.success(request, _("The piece %(piece)s is with you now.") % {"piece": piece.name})
    return to_piece(piece)


@on_piece("POST")
def leave_queue(
    request: SignedInRequest, piece: Piece, me: Member, *, member_id: int
) -> HttpResponse:
    """Give up waiting for the piece, or take somebody else out of its queue."""
    require_to_act_for(me, member_id)
    member = me if member_id == me.pk else fellow_of(me, member_id)
    if queue.leave_queue(piece=piece, member=member, by=me, now=timezone.now()):
        told = {"name": member.name, "piece": piece.name}
        messages.success(request, _("%(name)s no longer waits for the piece %(piece)s.") % told)
    return to_piece(piece)


@on_piece("GET", "POST")
def put_piece_into_hands(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """Say who really has the piece."""
    require(me, Role.COORDINATOR)
    form = WithForm(posted(request), piece=piece)
    if form.carry_out(
        lambda: hand_overs.put_piece_into_hands(
            piece=piece, member=form.cleaned_data["member"], by=me, now=timezone.now()
        )
    ):
        told = {"name": form.cleaned_data["member"].name, "piece": piece.name}
        messages.success(request, _("The piece %(piece)s is with %(name)s.") % told)
        return to_piece(piece)
    return confirm(
        request,
        form,
        heading=_("Who has the piece %(piece)s?") % {"piece": piece.name},
        consequences=consequences.finding(piece),
        submit=_("It is with them"),
        back=reverse("drives:piece", args=[piece.pk]),
    )


@on_piece("GET", "POST")
def declare_piece_lost(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """Say that the piece is lost or spoilt, once the reader has seen what that undoes."""
    require(me, Role.COORDINATOR)
    if request.method == "POST":
        if loss.declare_piece_lost(piece=piece, by=me, now=timezone.now()):
            told = _("The piece %(piece)s is gone from the plan. What is left goes on.")
            messages.success(request, told % {"piece": piece.name})
        return redirect("drives:blanket", piece.blanket_id)
    return confirm(
        request,
        ActionForm(),
        heading=_("Is the piece %(piece)s lost?") % {"piece": piece.name},
        consequences=consequences.losing(piece),
        submit=_("It is lost, or spoilt"),
        back=reverse("drives:piece", args=[piece.pk]),
    )


@on_piece("POST")
def print_label(request: SignedInRequest, piece: Piece, me: Member) -> HttpResponse:
    """Ask for the label for the piece's bag; paper that nobody has heard of is taken for A4."""
    paper = request.POST.get("paper")
    sheet = request_document(
        blanket=piece.blanket,
        by=me,
        kind=LABEL,
        options=Options(paper=Paper(paper) if paper in Paper.values else Paper.A4, piece=piece.pk),
        now=timezone.now(),
    )
    return opened(sheet)
