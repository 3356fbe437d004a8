"""Addresses of this room: all below the square’s own."""

from django.urls import include, path

from . import acts, after_finishing, square

squares = [
    path("", square.square, name="square"),
    path("claim/", square.claim, name="claim"),
    path("rows/", square.rows, name="rows"),
    path("finish/", acts.finish, name="finish"),
    path("give-back/", acts.give_back, name="give_back"),
    path("claim-for/", acts.claim_for, name="claim_for"),
    path("extend/", acts.extend, name="extend"),
    path("release/", acts.release, name="release"),
    path("rip-back/", acts.rip_back, name="rip_back"),
    path("weigh/", after_finishing.weigh, name="weigh"),
    path("measure/", after_finishing.measure, name="measure"),
]

urlpatterns = [path("blankets/<int:blanket_id>/squares/<str:place>/", include(squares))]
