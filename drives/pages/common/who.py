"""Choosing one of those who knit in a circle."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from accounts.models import Member
from shared.pages.forms import ActionForm


class WhoForm(ActionForm):
    """For whom a square is; the circle is that of ``by``."""

    member = forms.ModelChoiceField(
        Member.objects.none(),
        label=gettext_lazy("Who knits it"),
        empty_label=gettext_lazy("Choose somebody"),
    )

    def __init__(self, *args: Any, by: Member, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.offer("member", by.circle.members.present().volunteers())
