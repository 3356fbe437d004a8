"""Addresses of this room."""

from django.urls import path

from . import hand_overs, pieces

urlpatterns = [
    path("pieces/<int:piece_id>/hand-over/", hand_overs.arrange, name="arrange"),
    path("hand-overs/<int:hand_over_id>/sent/", hand_overs.sent, name="sent"),
    path("hand-overs/<int:hand_over_id>/received/", hand_overs.received, name="received"),
    path("hand-overs/<int:hand_over_id>/cancel/", hand_overs.cancel, name="cancel"),
    path("hand-overs/<int:hand_over_id>/contact/", hand_overs.contact, name="contact"),
    path("blankets/<int:blanket_id>/pieces/", pieces.pieces, name="pieces"),
    path("pieces/<int:piece_id>/", pieces.piece, name="piece"),
    path("pieces/<int:piece_id>/line/<int:member_id>/leave/", pieces.leave_line, name="leave_line"),
    path("pieces/<int:piece_id>/take/", pieces.take, name="take"),
    path("pieces/<int:piece_id>/found/", pieces.found, name="found"),
    path("pieces/<int:piece_id>/lost/", pieces.lost, name="lost"),
    path("pieces/<int:piece_id>/label/", pieces.label, name="label"),
]
