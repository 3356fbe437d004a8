"""What allauth's forms do otherwise here."""

from typing import Any

from allauth.account.adapter import get_adapter
from allauth.account.forms import (
    AddEmailForm,
    ChangePasswordForm,
    LoginForm,
    ResetPasswordForm,
    ResetPasswordKeyForm,
)
from allauth.account.internal.flows.email_verification import send_verification_email_to_address
from allauth.account.models import EmailAddress
from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.actions import share_session, want_address
from accounts.login.known import make_known
from accounts.models import User


class AddressForm(AddEmailForm):  # type: ignore[misc]
    """Another address; the one so far stays, proven or not, until the new one is proven."""

    def clean_email(self) -> str:
        """allauth would not let anybody who has a second step change their address."""
        email = str(get_adapter().clean_email(self.cleaned_data["email"].lower()))
        if EmailAddress.objects.filter(user=self.user, email=email).exists():
            raise get_adapter().validation_error("duplicate_email")
        return email

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
        else:
            make_known(answer, self.cleaned_data["login"])
        return answer


class ForgottenPasswordForm(ResetPasswordForm):  # type: ignore[misc]
    """For the address that somebody signs in with; one that they only want to have is not theirs.

    The same work is done whether or not there is a login: time does not tell.
    """

    def clean_email(self) -> str:
        """allauth would look twice for who is not there, and let wanted addresses in."""
        email = str(get_adapter().clean_email(self.cleaned_data["email"].lower()))
        found = User.objects.filter(email__iexact=email, is_active=True).first()
        self.users = [found or User(pk=0)]
        return email


class NewPasswordForm(ResetPasswordKeyForm):  # type: ignore[misc]
    """In our words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _call(self, password1=_("New password"), password2=_("New password, once more"))


class OtherPasswordForm(ChangePasswordForm):  # type: ignore[misc]
    """In our words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _call(
            self,
            oldpassword=_("Your current password"),
            password1=_("New password"),
            password2=_("New password, once more"),
        )


def _call(form: forms.Form, **labels: str) -> None:
    """Label these fields; a placeholder would say the same again, in allauth's words."""
    for name, label in labels.items():
        form.fields[name].label = label
        form.fields[name].widget.attrs.pop("placeholder", None)
