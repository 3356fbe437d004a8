"""The root of all addresses. Each room brings its own."""

from django.urls import include, path

from shared.telling.metrics import metrics

urlpatterns = [
    path("", include("drives.pages.urls")),
    path("", include("accounts.urls")),
    path("account/", include("allauth.urls")),
    path("api/v1/", include("drives.api.urls")),
    path("metrics/", metrics, name="metrics"),
    path("health/", include("shared.telling.health")),
]

handler400 = "shared.pages.errors.misunderstood"
handler500 = "shared.pages.errors.stumbled"
