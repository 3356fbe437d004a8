"""What allauth's forms do otherwise here."""

from allauth.account.forms import AddEmailForm, LoginForm
from allauth.account.internal.flows.email_verification import send_verification_email_to_address
from allauth.account.models import EmailAddress
from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy

from accounts.actions import share_session, want_address


class AddressForm(AddEmailForm):  # type: ignore[misc]
    """Another address; the one so far stays, proven or not, until the new one is proven."""

    def save(self, request: HttpRequest) -> EmailAddress:
        address = want_address(user=self.user, email=self.cleaned_data["email"])
        send_verification_email_to_address(request, address)
        return address


class SignInForm(LoginForm):  # type: ignore[misc]
    """Asks too whether others use the computer."""

    shared = forms.BooleanField(
        label=gettext_lazy("Others use this computer too"),
        required=False,
        help_text=gettext_lazy(
            "Then you are signed out when the browser is closed, or after an hour without use."
        ),
    )

    def login(self, request: HttpRequest, redirect_url: str | None = None) -> HttpResponse:
        """Whatever is still asked after the password, it is the same session."""
        answer: HttpResponse = super().login(request, redirect_url)
        if self.cleaned_data["shared"]:
            share_session(session=request.session)
        return answer
