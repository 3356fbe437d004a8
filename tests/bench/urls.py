"""The site's addresses, and the floors that it is measured against."""

from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import include, path
from django.views.decorators.csrf import csrf_exempt

from accounts.models import User
from drives.models import Square, StoredState
from shared.basics.transactions import writing


@csrf_exempt
def conditional_update(request: HttpRequest, square_id: int) -> HttpResponse:
    """The barest claim: one conditional UPDATE in one transaction, for whoever asks."""
    with writing():
        changed = Square.objects.ready().filter(pk=square_id).update(state=StoredState.TAKEN)
    return HttpResponse(status=201 if changed else 409)


def constant(request: HttpRequest, blanket_id: int, user_id: int) -> HttpResponse:
    """The bytes of a blanket's page, without the work of making them; sent as the page is."""
    return HttpResponse(_page(blanket_id, user_id))


@lru_cache
def _page(blanket_id: int, user_id: int) -> bytes:
    client = Client()
    client.force_login(User.objects.get(pk=user_id))
    return client.get(f"/blankets/{blanket_id}/", headers={"host": "127.0.0.1"}).content


urlpatterns = [
    path("floor/claim/<int:square_id>/", conditional_update),
    path("floor/page/<int:blanket_id>/<int:user_id>/", constant),
    path("", include("shared.urls")),
]
