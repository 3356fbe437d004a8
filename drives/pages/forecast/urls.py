"""Addresses of this room."""

from django.urls import path

from . import forecast, panels, rota, rota_acts

urlpatterns = [
    path("blankets/<int:blanket_id>/forecast/", forecast.forecast_page, name="forecast"),
    path("blankets/<int:blanket_id>/rota/", rota.rota_page, name="rota"),
    path("blankets/<int:blanket_id>/rota/accept/", rota_acts.accept_rota, name="accept_rota"),
    path("blankets/<int:blanket_id>/rota/take-back/", rota_acts.take_back, name="take_back_rota"),
    path("blankets/<int:blanket_id>/rota/<str:place>/", rota_acts.accept_line, name="rota_line"),
    path(
        "blankets/<int:blanket_id>/rota/<str:place>/decline/",
        rota_acts.decline_line,
        name="decline_rota_line",
    ),
    path(
        "blankets/<int:blanket_id>/rota/<str:place>/take-back/",
        rota_acts.take_back_line,
        name="take_back_rota_line",
    ),
    path("blankets/<int:blanket_id>/panels/", panels.panels_page, name="panels"),
    path("blankets/<int:blanket_id>/panels/<str:seams>/", panels.cut_blanket, name="cut"),
]
