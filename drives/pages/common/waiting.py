"""What a worker makes for a page: how far that is, or the press that asks for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from drives.access import sheet_of
from drives.models import Blanket, Sheet, Status
from shared.basics.text import Text

NOT_CHANGED = 204  # htmx then leaves the page as it is
STANDING = "drives/common/_standing.html"


class Sentences(NamedTuple):
    """What is said beside it: before it is asked for, while it is made, and when that failed."""

    making: Text
    then: Text
    failed: Text
    mend: Text
    ask: Text = ""
    press: Text = ""


@dataclass(frozen=True, kw_only=True)
class Waiting:
    """A page waits for ``sheet``; None has not been asked for.

    ``again`` is where one asks how far it is, ``done`` where one is led when it is there. To
    ``press``, if there is a button, ``sent`` is posted to ask for it.
    """

    sheet: Sheet | None
    said: Sentences
    again: str
    done: str
    press: str = ""
    sent: Mapping[str, str] = field(default_factory=dict)

    @property
    def standing(self) -> str:
        return f"{self.sheet.status}-{self.sheet.progress}" if self.sheet else ""

    @property
    def look(self) -> str:
        """Where htmx asks, which answers the part of the page that tells it, if that changed."""
        return f"{self.again}{'&' if '?' in self.again else '?'}seen={self.standing}"

    @property
    def unfinished(self) -> bool:
        return self.sheet is not None and self.sheet.unfinished

    @property
    def by_itself(self) -> bool:
        """With scripts it is pressed at once; what failed is not asked for again and again."""
        return self.sheet is None


def renewed(request: HttpRequest, waiting: Waiting) -> HttpResponse:
    """For htmx: how far it is, if that is not what ``seen`` says; on to the answer in the end."""
    if waiting.sheet is not None and waiting.sheet.status == Status.DONE:
        return HttpResponse(headers={"HX-Redirect": waiting.done})
    if request.GET.get("seen") == waiting.standing:
        return HttpResponse(status=NOT_CHANGED)
    return render(request, STANDING, {"waiting": waiting})


def asked(request: HttpRequest, waiting: Waiting) -> HttpResponse:
    """The answer to whoever has just asked for the sheet."""
    if request.headers.get("HX-Request"):
        return renewed(request, waiting)
    return redirect(waiting.again if waiting.unfinished else waiting.done)


def meanwhile(request: HttpRequest, waiting: Waiting, facts: Mapping[str, object]) -> HttpResponse:
    """The page in place of the answer: with how far that is, or with the press that asks for it."""
    if "seen" in request.GET:
        return renewed(request, waiting)
    if waiting.sheet is not None and waiting.sheet.status == Status.DONE:
        return redirect(waiting.done)
    return render(request, "drives/common/waiting.html", {**facts, "waiting": waiting})


def awaited(request: HttpRequest, blanket: Blanket, kind: str) -> Sheet | None:
    """The sheet that the page waits for already, by its address."""
    return sheet_of(blanket, kind, request.GET.get("sheet", ""))
