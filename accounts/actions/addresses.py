"""E-mail addresses: the one somebody signs in with, and the one that they want instead."""

from allauth.account.models import EmailAddress

from accounts.models import User
from shared.basics.transactions import writing


def want_address(*, user: User, email: str) -> EmailAddress:
    """The address that takes the place of ``user.email`` once it is proven to be theirs.

    Until then they sign in with the one they have, though it may be unproven too. Whatever they
    wanted before is forgotten.
    """
    with writing():
        others = EmailAddress.objects.filter(user=user, verified=False).exclude(email=user.email)
        others.delete()
        return EmailAddress.objects.create(user=user, email=email.lower())
