"""Forms that carry out an action, and what they share."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from django import forms
from django.http import HttpRequest, QueryDict

from shared.refusals import Refused

T = TypeVar("T")


@dataclass(frozen=True)
class Done(Generic[T]):
    """An action was carried out; ``result`` is what it answered, which may be None."""

    result: T


def posted(request: HttpRequest) -> QueryDict | None:
    """What a form was sent with; None where the page is only looked at."""
    return request.POST if request.method == "POST" else None


class ActionForm(forms.Form):
    """What an action needs from a person; a form without fields asks for their yes."""

    refused: Refused | None = None

    def carry_out(self, action: Callable[[], T]) -> Done[T] | None:
        """Done, if the form is sent and right, and ``action`` does not refuse; else None.

        The refusal's sentence then stands among the form's errors.
        """
        if not self.is_valid():
            return None
        try:
            return Done(action())
        except Refused as refused:
            self.refused = refused
            self.add_error(None, refused.detail)
            return None

    @property
    def status(self) -> int:
        """The HTTP status of the page that shows this form."""
        if self.refused:
            return 409
        return 422 if self.errors else 200


class DateField(forms.DateField):
    """A day, chosen and sent as browsers do: 2026-11-03."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
