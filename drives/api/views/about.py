"""Pages about the API itself, and what is answered where there is nothing."""

from typing import Any, NoReturn

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.views import APIView

from drives.api.problems import PROBLEM_KINDS


@require_safe
def problems_page(request: HttpRequest) -> HttpResponse:
    """Every kind of problem; the addresses in ``type`` lead to one of them each."""
    return render(request, "api/problems.html", {"kinds": PROBLEM_KINDS})


@require_safe
def problem_page(request: HttpRequest, code: str) -> HttpResponse:
    """What one kind of problem means."""
    if code not in PROBLEM_KINDS:
        raise Http404
    return render(request, "api/problem.html", {"code": code, "kind": PROBLEM_KINDS[code]})


class Nothing(APIView):
    """Answers every other address under the API's, so that this too is a problem document."""

    permission_classes = [AllowAny]
    schema = None

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> NoReturn:
        raise Http404
