"""Addresses of this room."""

from django.urls import path

from . import forecast, panels, rota

urlpatterns = [
    path("blankets/<int:blanket_id>/forecast/", forecast.forecast_page, name="forecast"),
    path("blankets/<int:blanket_id>/rota/", rota.rota_page, name="rota"),
    path("blankets/<int:blanket_id>/panels/", panels.panels_page, name="panels"),
    path("blankets/<int:blanket_id>/panels/<str:seams>/", panels.cut_blanket, name="cut"),
]
