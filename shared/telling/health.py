"""What a machine may ask: are you alive, can you work, and how do you see me?"""

from django.http import HttpRequest, HttpResponseBase, JsonResponse
from django.urls import path
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared import needs
from shared.pages.asker import address_of
from shared.pages.wrapping import Wrapping
from shared.telling.metrics import metrics

IN_ORDER = "in order"


@never_cache
@require_safe
def alive(request: HttpRequest) -> JsonResponse:
    """200 as long as the process answers at all."""
    return JsonResponse({"status": "alive"})


@never_cache
@require_safe
def ready(request: HttpRequest) -> JsonResponse:
    """200 when all that the site needs is there, else 503 and a sentence for what is not."""
    missing = needs.missing(needs.QUICK)
    answer = {name: " ".join(sentences) or IN_ORDER for name, sentences in missing.items()}
    if any(missing.values()):
        return JsonResponse({"status": "not ready", **answer}, status=503)
    return JsonResponse({"status": "ready", **answer})


@never_cache
@require_safe
def seen(request: HttpRequest) -> JsonResponse:
    """How a request looks from here; ``deploy_check`` asks it through the proxy."""
    return JsonResponse({"https": request.is_secure(), "client": address_of(request)})


class ForMachines(Wrapping):
    """Answers whoever watches over the site, whatever name or address they call it by."""

    answers = {"/health/": alive, "/health/ready/": ready, "/metrics/": metrics}

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.answers.get(request.path_info, self.get_response)(request)


urlpatterns = [
    path("", alive, name="health"),
    path("ready/", ready, name="health-ready"),
    path("seen/", seen, name="health-seen"),
]
