"""Addresses of this room."""

from django.urls import path

from . import exports, gift, page

urlpatterns = [
    path("blankets/<int:blanket_id>/", page.blanket_page, name="blanket"),
    path("blankets/<int:blanket_id>/live/", page.live_part, name="live"),
    path("blankets/<int:blanket_id>/log/", page.log_page, name="log"),
    path(
        "blankets/<int:blanket_id>/export/<str:name>.<str:form>",
        exports.export_table,
        name="export",
    ),
    path("blankets/<int:blanket_id>/map.<str:form>", exports.map_picture, name="map_file"),
    path("blankets/<int:blanket_id>/gift/", gift.gift_page, name="gift"),
]
