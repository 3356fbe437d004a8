"""Forms that carry out an action."""

from collections.abc import Callable
from typing import TypeVar

from django import forms

from shared.refusals import Refused

T = TypeVar("T")


class ActionForm(forms.Form):
    """What an action needs from a person; a form without fields asks for their yes."""

    refused: Refused | None = None

    def carry_out(self, action: Callable[[], T]) -> T | None:
        """What ``action`` answers; None if the form is not sent or not right yet, or if refused.

        The refusal's sentence then stands among the form's errors.
        """
        if not self.is_valid():
            return None
        try:
            return action()
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
