"""What stands before a view: that somebody has signed in, and that it is still them."""

from collections.abc import Callable
from typing import TypeVar, cast

from allauth.account.decorators import reauthentication_required
from django.http import HttpRequest, HttpResponse

from accounts.models import User

View = TypeVar("View", bound=Callable[..., HttpResponse])


class SignedInRequest(HttpRequest):
    """A request whose user has signed in."""

    user: User


def asked_again(view: View) -> View:
    """Below ``login_required``: whoever uses the view gives their password once more just before.

    For what a stolen session must not do. What was sent is carried out after that.
    """
    return cast("View", reauthentication_required(view))
