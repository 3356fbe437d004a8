"""What all views of one piece, and of one hand-over, have in common."""

from collections.abc import Callable
from functools import wraps

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.access import hand_over_for, piece_for
from drives.models import HandOver, Piece
from drives.pages.pieces import card
from shared.basics.refusals import Refused
from shared.pages.methods import require_methods

PiecePage = Callable[..., HttpResponse]  # request, piece, me, and what else the address says
HandOverPage = Callable[[SignedInRequest, HandOver, Member], HttpResponse]


def on_piece(*methods: str) -> Callable[[PiecePage], Callable[..., HttpResponse]]:
    """A view that is given the piece and the reader's membership.

    What is Refused in it is answered by the piece's page, which says why.
    """

    def decorate(view: PiecePage) -> Callable[..., HttpResponse]:
        @require_methods(*methods)
        @login_required
        @wraps(view)
        def wrapped(request: SignedInRequest, piece_id: int, **more: int) -> HttpResponse:
            piece, me = piece_for(request.user, piece_id)
            try:
                return view(request, piece, me, **more)
            except Refused as refused:
                piece, me = piece_for(request.user, piece_id)
                return card.page(request, piece, me, refused)

        return wrapped

    return decorate


def on_hand_over(*methods: str) -> Callable[[HandOverPage], Callable[..., HttpResponse]]:
    """The same for a hand-over; a refusal is answered by the page of its piece."""

    def decorate(view: HandOverPage) -> Callable[..., HttpResponse]:
        @require_methods(*methods)
        @login_required
        @wraps(view)
        def wrapped(request: SignedInRequest, hand_over_id: int) -> HttpResponse:
            hand_over, me = hand_over_for(request.user, hand_over_id)
            try:
                return view(request, hand_over, me)
            except Refused as refused:
                piece, me = piece_for(request.user, hand_over.piece_id)
                return card.page(request, piece, me, refused)

        return wrapped

    return decorate


def to_piece(piece: Piece) -> HttpResponseRedirect:
    return redirect("drives:piece", piece.pk)
