"""The addresses of drives, blankets and squares: each room has its own."""

from django.urls import include, path

from drives.pages import home

app_name = "drives"

ROOMS = (
    "circle",
    "drive",
    "rules",
    "planning",
    "forecast",
    "gauge",
    "blanket",
    "square",
    "pieces",
    "colours",
    "yarn",
    "paper",
)

urlpatterns = [
    path("", home.home_page, name="home"),
    *(path("", include(f"drives.pages.{room}.urls")) for room in ROOMS),
]
