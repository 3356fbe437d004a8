"""Addresses of this room."""

from django.urls import path

from . import hand_overs, pieces

urlpatterns = [
    path("pieces/<int:piece_id>/hand-over/", hand_overs.arrange_hand_over, name="arrange"),
    path("hand-overs/<int:hand_over_id>/sent/", hand_overs.send_piece, name="sent"),
    path("hand-overs/<int:hand_over_id>/received/", hand_overs.receive_piece, name="received"),
    path("hand-overs/<int:hand_over_id>/cancel/", hand_overs.cancel_hand_over, name="cancel"),
    path("hand-overs/<int:hand_over_id>/contact/", hand_overs.tell_contact, name="contact"),
    path("blankets/<int:blanket_id>/pieces/", pieces.pieces_page, name="pieces"),
    path("pieces/<int:piece_id>/", pieces.piece_page, name="piece"),
    path(
        "pieces/<int:piece_id>/line/<int:member_id>/leave/", pieces.leave_queue, name="leave_line"
    ),
    path("pieces/<int:piece_id>/take/", pieces.take_piece, name="take"),
    path("pieces/<int:piece_id>/found/", pieces.put_piece_into_hands, name="found"),
    path("pieces/<int:piece_id>/lost/", pieces.declare_piece_lost, name="lost"),
    path("pieces/<int:piece_id>/label/", pieces.print_label, name="label"),
]
