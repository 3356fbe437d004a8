"""What the site keeps of people, who reads it, and for how long."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shared.configuration.kept import TABLE


@require_safe
def privacy(request: HttpRequest) -> HttpResponse:
    """The times are those that the tasks keep to."""
    facts = {
        "kept": [(row.what, settings.KEPT[name].days) for name, row in TABLE.items()],
        "signed_in_days": settings.SESSION_COOKIE_AGE // 86_400,
        "operator": settings.OPERATOR,
    }
    return render(request, "accounts/privacy.html", facts)
