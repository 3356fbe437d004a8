"""The root of all addresses."""

from importlib.util import find_spec

from django.urls import include, path

urlpatterns = [
    path("account/", include("allauth.urls")),
    path("health/", include("shared.health")),
]
for prefix, module in (
    ("", "accounts.urls"),
    ("", "drives.pages.urls"),
    ("api/v1/", "drives.api.urls"),
):
    try:
        found = find_spec(module)
    except ModuleNotFoundError:
        found = None
    if found:
        urlpatterns.append(path(prefix, include(module)))
