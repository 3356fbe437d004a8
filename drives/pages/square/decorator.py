"""What all views of one square have in common."""

from collections.abc import Callable
from functools import wraps

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.access import square_for
from drives.models import Square
from drives.pages.square import card
from shared.basics.refusals import Refused
from shared.pages.methods import require_methods

SquarePage = Callable[[SignedInRequest, Square, Member], HttpResponse]


def on_square(*methods: str) -> Callable[[SquarePage], Callable[..., HttpResponse]]:
    """A view that is given the square and the reader's membership.

    What is Refused in it is answered by the square's card, which says why and shows what there
    is to do instead.
    """

    def decorate(view: SquarePage) -> Callable[..., HttpResponse]:
        @require_methods(*methods)
        @login_required
        @wraps(view)
        def wrapped(request: SignedInRequest, blanket_id: int, place: str) -> HttpResponse:
            square, me = square_for(request.user, blanket_id, place)
            try:
                return view(request, square, me)
            except Refused as refused:
                square, me = square_for(request.user, blanket_id, place)
                return card.page(request, square, me, refused)

        return wrapped

    return decorate
