"""What a view behind ``login_required`` is given."""

from django.http import HttpRequest

from accounts.models import User


class SignedInRequest(HttpRequest):
    """A request whose user has signed in."""

    user: User
