"""Addresses of this room: all below the square’s own."""

from django.urls import include, path

from . import acts, after_finishing, knitting, square

squares = [
    path("", square.square_page, name="square"),
    path("claim/", square.claim_square, name="claim"),
    path("knit/", knitting.knit_page, name="knit"),
    path("rows/", knitting.count_rows, name="rows"),
    path("finish/", acts.finish_square, name="finish"),
    path("give-back/", acts.give_back_square, name="give_back"),
    path("claim-for/", acts.claim_square_for, name="claim_for"),
    path("extend/", acts.extend_claim, name="extend"),
    path("release/", acts.release_claim, name="release"),
    path("rip-back/", acts.rip_back_square, name="rip_back"),
    path("weigh/", after_finishing.weigh_square, name="weigh"),
    path("measure/", after_finishing.measure_square, name="measure"),
]

urlpatterns = [path("blankets/<int:blanket_id>/squares/<str:place>/", include(squares))]
