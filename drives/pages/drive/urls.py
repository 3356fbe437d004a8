"""Addresses of this room."""

from django.urls import path

from . import drive, meetings

urlpatterns = [
    path("circles/<int:circle_id>/drives/new/", drive.new_drive, name="new_drive"),
    path("drives/<int:drive_id>/", drive.drive_page, name="drive"),
    path("drives/<int:drive_id>/settings/", drive.drive_settings, name="drive_settings"),
    path("drives/<int:drive_id>/meetings/", meetings.meetings_page, name="meetings"),
    path(
        "drives/<int:drive_id>/meetings/<int:meeting_id>/drop/",
        meetings.drop_meeting,
        name="drop_meeting",
    ),
]
