"""A page that shows what a worker is making for it, and waits until that is done."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from drives.access import sheet_of
from drives.models import Blanket, Sheet, Status

NOT_CHANGED = 204  # htmx then leaves the page as it is


def awaited(request: HttpRequest, blanket: Blanket, kind: str) -> Sheet | None:
    """The sheet that the page waits for already, by its address.

    What failed is so not asked for again and again.
    """
    return sheet_of(blanket, kind, request.GET.get("sheet", ""))


def wait(
    request: HttpRequest, sheet: Sheet, address: str, facts: dict[str, object]
) -> HttpResponse | None:
    """The page, or its part, that says how far the sheet is; None when its content is to be shown.

    ``address`` is the page's own. htmx asks again with ``seen``, the standing that it shows, and
    gets 204 while that is the same.
    """
    seen = request.GET.get("seen")
    if sheet.status == Status.DONE:
        if seen is not None:
            return HttpResponse(headers={"HX-Redirect": address})
        return redirect(address) if "sheet" in request.GET else None
    standing = f"{sheet.status}-{sheet.progress}"
    if seen == standing:
        return HttpResponse(status=NOT_CHANGED)
    facts |= {"sheet": sheet, "standing": standing, "address": address}
    facts["again"] = f"{address}{'&' if '?' in address else '?'}sheet={sheet.pk}"
    template = "drives/common/waiting.html" + ("" if seen is None else "#standing")
    return render(request, template, facts)
