"""Where the codes on paper lead."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.views.decorators.http import require_safe

from accounts.access import member_of
from drives.access import code_for


@require_safe
def code(request: HttpRequest, token: str) -> HttpResponse:
    """The page of the square or the piece, for the people of its circle."""
    found = code_for(token)
    member_of(request.user, found.blanket.drive.circle_id)
    if found.square:
        return redirect("drives:square", found.blanket.pk, str(found.square))
    if found.piece is None:
        raise Http404
    return redirect("drives:piece", found.piece.pk)


urlpatterns = [path("c/<str:token>/", code, name="code")]
