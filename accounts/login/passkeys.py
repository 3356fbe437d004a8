"""Passkeys: what allauth's forms do otherwise here.

allauth reads into whatever JSON a browser sends; what is no passkey's answer is refused.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from allauth.mfa.adapter import get_adapter
from allauth.mfa.webauthn.forms import (
    AddWebAuthnForm,
    AuthenticateWebAuthnForm,
    LoginWebAuthnForm,
    ReauthenticateWebAuthnForm,
)
from django import forms
from django.forms.fields import InvalidJSONInput
from django.utils.translation import gettext_lazy


@contextmanager
def _refusing() -> Iterator[None]:
    try:
        yield
    except (AttributeError, IndexError, KeyError, TypeError, ValueError) as unreadable:
        raise get_adapter().validation_error("incorrect_code") from unreadable


class _Json(forms.JSONField):
    """Python reads no number of more than 4,300 digits; Django knows no such JSON."""

    def to_python(self, value: Any) -> Any:
        with _refusing():
            return super().to_python(value)

    def bound_data(self, data: Any, initial: Any) -> Any:
        try:
            return super().bound_data(data, initial)
        except ValueError:
            return InvalidJSONInput(data)


class _Answer(forms.Form):
    """Of a passkey that was asked."""

    credential = _Json(widget=forms.HiddenInput)

    def clean_credential(self) -> Any:
        with _refusing():
            return super().clean_credential()  # type: ignore[misc]


class SignInByPasskeyForm(_Answer, LoginWebAuthnForm):  # type: ignore[misc]
    """Without a password."""


class SecondStepByPasskeyForm(_Answer, AuthenticateWebAuthnForm):  # type: ignore[misc]
    """After the password."""


class AskedAgainByPasskeyForm(_Answer, ReauthenticateWebAuthnForm):  # type: ignore[misc]
    """Instead of the password, before something dear."""


class NewPasskeyForm(AddWebAuthnForm):  # type: ignore[misc]
    """In our words."""

    credential = _Json(widget=forms.HiddenInput)
    name = forms.CharField(label=gettext_lazy("Name"), required=False, max_length=50)
    passwordless = forms.BooleanField(
        label=gettext_lazy("Without a password"),
        required=False,
        help_text=gettext_lazy(
            "The passkey then signs you in on its own, with a finger, your face or a PIN. "
            "Otherwise you are asked for it after your password."
        ),
    )

    def clean(self) -> Any:
        with _refusing():
            return super().clean()
