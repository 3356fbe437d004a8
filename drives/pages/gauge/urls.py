"""Addresses of this room."""

from django.urls import path

from . import gauge

urlpatterns = [
    path("blankets/<int:blanket_id>/gauge/", gauge.gauge_page, name="gauge"),
]
