"""Whatever goes wrong in a call leaves it as a problem document."""

import logging
import math
from collections.abc import Iterator
from itertools import islice
from typing import Any

from django.core.exceptions import PermissionDenied, RequestDataTooBig
from django.core.signals import got_request_exception
from django.http import Http404, HttpResponse
from django.utils.translation import gettext_lazy
from rest_framework import exceptions

from drives.craft.layout.layout import InvalidLayout
from drives.words.layout import problem_words
from shared.basics.limits import LimitReached
from shared.basics.refusals import Refused
from shared.pages.errors import DATABASE_AWAY, DATABASE_AWAY_SECONDS
from shared.storage.files import AWAY_SECONDS, FilesAway

from .problems import PROBLEM_KINDS, problem

log = logging.getLogger("django.request")

MOST_ERRORS = 100
BODY = "body"

# The framework's own code: ours, and the sentence for it.
FRAMEWORK = {
    "not_authenticated": (
        "not-signed-in",
        gettext_lazy("Please sign in, or send a key to the API."),
    ),
    "not_found": ("not-found", gettext_lazy("There is nothing here, or it is not yours to see.")),
    "method_not_allowed": (
        "method-not-allowed",
        gettext_lazy("This address does not take this method."),
    ),
    "not_acceptable": (
        "not-acceptable",
        gettext_lazy("This call cannot answer in the format asked for."),
    ),
    "unsupported_media_type": (
        "unsupported-media-type",
        gettext_lazy("Please send the body as application/json."),
    ),
    "throttled": (
        "too-many-requests",
        gettext_lazy("That was a lot of calls; please wait a little, then go on."),
    ),
}


def answer(error: Exception, context: dict[str, Any]) -> HttpResponse:
    """The problem document for ``error``; whatever is not foreseen is logged and told as 500."""
    view = context["view"]
    invalid = getattr(view, "invalid", "invalid-input")
    match error:
        case Refused():
            return problem(error.code, error.detail, members=error.facts)
        case LimitReached():
            wait = {"Retry-After": str(error.wait)}
            return problem("too-many-requests", error.detail, wait)
        case FilesAway():
            log.error("the files do not answer: %s", error)
            return problem(
                "files-away",
                gettext_lazy("The place where documents are kept does not answer now."),
                {"Retry-After": str(AWAY_SECONDS)},
            )
        case InvalidLayout():
            return _invalid(
                invalid,
                ({"field": each.field, "detail": problem_words(each)} for each in error.problems),
            )
        case exceptions.ParseError():
            detail = gettext_lazy("The body cannot be read as JSON.")
            return _invalid(invalid, iter([{"field": BODY, "detail": str(detail)}]))
        case exceptions.ValidationError():
            return _invalid(invalid, _flat(error.detail))
        case PermissionDenied():
            return problem("not-allowed", str(error))
        case Http404():
            return problem(*FRAMEWORK["not_found"])
        case RequestDataTooBig():
            return problem("too-large", gettext_lazy("The body is too large."))
        case exceptions.APIException():
            return _of_framework(error)
    log.error("%s: %s", type(view).__name__, error, exc_info=error)
    got_request_exception.send(sender=type(view), request=context["request"])
    if isinstance(error, DATABASE_AWAY):
        return problem(
            "database-away",
            gettext_lazy("The site cannot reach its records just now; please try again."),
            {"Retry-After": str(DATABASE_AWAY_SECONDS)},
        )
    return problem(
        "internal-error", gettext_lazy("Something went wrong on our side; please try again.")
    )


def _of_framework(error: exceptions.APIException) -> HttpResponse:
    headers = {}
    if wait := getattr(error, "wait", None):
        headers["Retry-After"] = str(math.ceil(wait))
    if auth_header := getattr(error, "auth_header", None):
        headers["WWW-Authenticate"] = auth_header
    code = str(error.get_codes())
    if code in PROBLEM_KINDS:
        return problem(code, str(error.detail), headers)
    return problem(*FRAMEWORK[code], headers)


def _invalid(code: str, errors: Iterator[dict[str, str]]) -> HttpResponse:
    listed = list(islice(errors, MOST_ERRORS))
    first = listed[0]
    detail = first["detail"] if first["field"] == BODY else "{field}: {detail}".format(**first)
    return problem(code, detail, members={"errors": listed})


def _flat(detail: Any, field: str = BODY) -> Iterator[dict[str, str]]:
    """Each error with its field; one within another is named ``palette.0.name``.

    Of a list of plain values the list itself is the field.
    """
    if isinstance(detail, list):
        detail = dict(enumerate(detail))
    if isinstance(detail, dict):
        for name, inner in detail.items():
            of_entry = isinstance(name, int) and not isinstance(inner, dict)
            same = of_entry or name == "non_field_errors"
            yield from _flat(inner, field if same else _within(field, str(name)))
    else:
        yield {"field": field, "detail": str(detail)}


def _within(field: str, name: str) -> str:
    return name if field == BODY else f"{field}.{name}"
