"""What is asked beside allauth's own questions; its forms are built on this one."""

from __future__ import annotations

from typing import Any

from django import forms
from django.http import HttpRequest
from django.utils.translation import gettext_lazy

from accounts.actions import name_person, require_plain
from accounts.login.passwords import NotTheObvious
from accounts.models import User
from shared.basics.refusals import Refused


class SignUpForm(forms.Form):
    """Put by allauth under its own sign-up form, which asks for e-mail and password."""

    name = forms.CharField(
        label=gettext_lazy("Your name"),
        max_length=100,
        help_text=gettext_lazy("As the others in your circle know you."),
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )

    field_order = ("name", "email", "password1")

    def clean_name(self) -> str:
        """A plain name, as everywhere."""
        name = str(self.cleaned_data["name"])
        try:
            require_plain(name)
        except Refused as refused:
            raise forms.ValidationError(refused.detail) from refused
        return name

    def clean(self) -> dict[str, Any]:
        """allauth judges the password without knowing the name."""
        told = super().clean() or {}
        person = User(name=told.get("name", ""))
        if told.get("password1"):
            try:
                NotTheObvious().validate(told["password1"], person)
            except forms.ValidationError as weak:
                self.add_error("password1", weak)
        return told

    def signup(self, request: HttpRequest, user: User) -> None:
        """Called by allauth once the user is stored."""
        name_person(user=user, name=self.cleaned_data["name"])
