"""Addresses of this room."""

from django.urls import path

from . import page

urlpatterns = [
    path("drives/<int:drive_id>/rules/", page.rules_page, name="rules"),
    path("drives/<int:drive_id>/rules/overrule/", page.overrule_conflict, name="overrule"),
    path("drives/<int:drive_id>/rules/uphold/", page.uphold_conflict, name="uphold"),
]
