"""The page that asks before something is done."""

from collections.abc import Sequence

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import ngettext

from shared.pages.forms import ActionForm


def names_in_documents() -> str:
    """How long a name outlives its owner on this site."""
    days = settings.KEPT["documents"].days
    return ngettext(
        "Documents that have been made already keep the name for up to %(days)d day.",
        "Documents that have been made already keep the name for up to %(days)d days.",
        days,
    ) % {"days": days}


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
