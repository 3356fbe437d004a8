"""Forms that carry out an action, and what they share."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, QueryDict

from shared.basics.likely_days import likely_day
from shared.basics.refusals import Refused
from shared.basics.text import Text

T = TypeVar("T")
FieldGroup = tuple[str, list[forms.BoundField]]
"""A heading and the fields below it."""


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

    def offer(self, name: str, among: "QuerySet[Any] | Sequence[tuple[object, Text]]") -> None:
        """Let the field choose among these rows, or these values with their labels."""
        field = self.fields[name]
        if isinstance(field, forms.ModelChoiceField):
            assert isinstance(among, QuerySet)
            field.queryset = among
        else:
            assert isinstance(field, forms.ChoiceField | forms.MultipleChoiceField)
            assert not isinstance(among, QuerySet)
            field.choices = among

    def grouped(self, *parts: tuple[str, Iterable[str]]) -> list[FieldGroup]:
        """Fields by their names under headings; those that the form does not have are left out."""
        return [
            (heading, [self[name] for name in names if name in self.fields])
            for heading, names in parts
        ]

    @property
    def status(self) -> int:
        """The HTTP status of the page that shows this form."""
        if self.refused:
            return 409
        return 422 if self.errors else 200


class DateField(forms.DateField):
    """A day, chosen and sent as browsers do: 2026-11-03; a likely one."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    default_validators = [likely_day]


class YesNoField(forms.TypedChoiceField):
    """Yes, no, or not known: True, False or None, in ``initial`` too. It may be left open.

    ``answers`` says each of the three, in the order in which they are offered.
    """

    def __init__(self, answers: Mapping[bool | None, Text], **kwargs: Any) -> None:
        choices = [(self.prepare_value(answer), said) for answer, said in answers.items()]
        super().__init__(
            choices=choices, coerce="yes".__eq__, empty_value=None, required=False, **kwargs
        )

    def prepare_value(self, value: Any) -> Any:
        return {None: "", True: "yes", False: "no"}.get(value, value)
