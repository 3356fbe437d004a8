"""Addresses of this room."""

from django.urls import path

from . import codes, documents, finders

urlpatterns = [
    path("c/<str:link>/", codes.code_page, name="code"),
    path("blankets/<int:blanket_id>/codes/renew/", codes.renew_all_codes, name="renew_all_codes"),
    path("pieces/<int:piece_id>/code/renew/", codes.renew_piece_code, name="renew_piece_code"),
    path("blankets/<int:blanket_id>/print/", documents.print_page, name="print"),
    path("blankets/<int:blanket_id>/sheets/", documents.print_document, name="print_document"),
    path("sheets/<int:sheet_id>/", documents.sheet_page, name="sheet"),
    path("sheets/<int:sheet_id>/file/", documents.sheet_file, name="sheet_file"),
    path("notes/<int:note_id>/seen-to/", finders.seen_to, name="seen_to"),
    path(
        "blankets/<int:blanket_id>/squares/<str:place>/code/renew/",
        codes.renew_square_code,
        name="renew_square_code",
    ),
]
