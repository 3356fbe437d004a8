"""What allauth's forms do otherwise here."""

from allauth.account.forms import AddEmailForm
from allauth.account.internal.flows.email_verification import send_verification_email_to_address
from allauth.account.models import EmailAddress
from django.http import HttpRequest

from accounts.actions import want_address


class AddressForm(AddEmailForm):  # type: ignore[misc]
    """Another address; the one so far stays, proven or not, until the new one is proven."""

    def save(self, request: HttpRequest) -> EmailAddress:
        address = want_address(user=self.user, email=self.cleaned_data["email"])
        send_verification_email_to_address(request, address)
        return address
