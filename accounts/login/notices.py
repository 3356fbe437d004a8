"""What somebody is told by e-mail of what was done with their login."""

from typing import Any

from allauth.account.adapter import get_adapter
from django.http import HttpRequest


def tell_owner(request: HttpRequest, what: str, **facts: Any) -> None:
    """Write to whoever is signed in what was done, and from where: ``accounts/mail/WHAT_…``."""
    get_adapter(request).send_notification_mail(f"accounts/mail/{what}", request.user, facts)
