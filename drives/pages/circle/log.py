"""The log of a circle: what happened to it, its drives and their blankets."""

from collections.abc import Iterable

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from accounts.access import member_of
from accounts.models import Topic
from accounts.pages.signed_in import SignedInRequest
from drives.access import events_for
from drives.models import Blanket, Drive
from drives.pages.common.log.line import LogLine, log_lines
from drives.pages.common.log.paged import paged

PAGES = {Topic.DRIVE: "drives:drive", Topic.BLANKET: "drives:blanket"}


@require_safe
@login_required
def circle_log(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Everything that ``me`` may read, newest first, in pages."""
    me = member_of(request.user, circle_id)
    page = paged(request, events_for(me).select_related("by", "circle"))
    facts = {"me": me, "page": page, "events": _with_places(log_lines(page))}
    return render(request, "drives/circle/log.html", facts)


def _with_places(lines: Iterable[LogLine]) -> list[LogLine]:
    """Each with the drive or the blanket that it is about: a query for either."""
    told = list(lines)
    drives = Drive.objects.filter(pk__in=_ids(told, Topic.DRIVE))
    blankets = Blanket.objects.filter(pk__in=_ids(told, Topic.BLANKET))
    names = {
        Topic.DRIVE: dict(drives.values_list("pk", "name")),
        Topic.BLANKET: dict(blankets.values_list("pk", "name")),
    }
    return [_with_place(line, names) for line in told]


def _ids(lines: Iterable[LogLine], topic: Topic) -> set[int]:
    return {line.event.topic_id for line in lines if line.event.topic == topic}


def _with_place(line: LogLine, names: dict[Topic, dict[int, str]]) -> LogLine:
    topic, row = Topic(line.event.topic), line.event.topic_id
    if row not in names.get(topic, {}):
        return line
    return line._replace(about=names[topic][row], address=reverse(PAGES[topic], args=[row]))
