"""Addresses of this room."""

from django.urls import path

from . import absences, circle, feed, letters, log, taking_along

urlpatterns = [
    path("circles/<int:circle_id>/", circle.circle_page, name="circle"),
    path("circles/<int:circle_id>/log/", log.circle_log, name="circle_log"),
    path("circles/<int:circle_id>/away/", absences.absences_page, name="absences"),
    path(
        "circles/<int:circle_id>/away/<int:absence_id>/drop/",
        absences.drop_absence,
        name="drop_absence",
    ),
    path("circles/<int:circle_id>/calendar/", feed.calendar_page, name="calendar"),
    path("circles/<int:circle_id>/calendar/revoke/", feed.revoke_feed, name="revoke_calendar"),
    path("calendar/<str:secret>.ics", feed.feed_file, name="feed"),
    path("circles/<int:circle_id>/letters/", letters.letters_page, name="letters"),
    path("me/data/", taking_along.my_data, name="my_data"),
    path("circles/<int:circle_id>/data/", taking_along.circle_data, name="circle_data"),
    path("letters/off/<str:signed>/", letters.letters_off, name="letters_off"),
]
