"""Addresses of this room."""

from django.urls import path

from . import layout, panels, size

urlpatterns = [
    path("drives/<int:drive_id>/plan/", size.size_page, name="plan"),
    path("drives/<int:drive_id>/plan/layout/", layout.new_blanket, name="new_blanket"),
    path("drives/<int:drive_id>/plan/panels/", panels.compare_plan, name="compare_plan"),
    path("blankets/<int:blanket_id>/layout/", layout.change_layout, name="layout"),
    path("blankets/<int:blanket_id>/takes/", layout.what_it_takes, name="what_it_takes"),
]
