"""The page that asks before something is done."""

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from shared.pages.forms import ActionForm


def confirm(
    request: HttpRequest,
    form: ActionForm,
    *,
    heading: str,
    consequences: Sequence[str],
    submit: str,
    back: str,
) -> HttpResponse:
    """Says in sentences what will happen; ``back`` is the address for those who think again."""
    facts = {
        "form": form,
        "heading": heading,
        "consequences": consequences,
        "submit": submit,
        "back": back,
    }
    return render(request, "accounts/confirm.html", facts, status=form.status)
