"""Addresses of this room."""

from django.urls import path

from . import choose, colours, paint

urlpatterns = [
    path("blankets/<int:blanket_id>/colours/", colours.colours_page, name="colours"),
    path("blankets/<int:blanket_id>/colours/paint/", paint.paint_page, name="paint"),
    path(
        "blankets/<int:blanket_id>/squares/<str:place>/colour/",
        choose.square_colour_page,
        name="square_colour",
    ),
]
