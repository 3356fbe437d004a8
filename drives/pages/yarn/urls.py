"""Addresses of this room."""

from django.urls import path

from . import buying, file, lots, of_blanket, reserve, store, yarn

urlpatterns = [
    path("circles/<int:circle_id>/yarn/file/", file.yarn_file_page, name="yarn_file"),
    path("circles/<int:circle_id>/yarn/file.csv", file.yarn_csv, name="yarn_csv"),
    path("blankets/<int:blanket_id>/yarn/", of_blanket.blanket_yarn_page, name="blanket_yarn"),
    path("blankets/<int:blanket_id>/yarn/lots/", lots.choose_lots, name="choose_lots"),
    path("blankets/<int:blanket_id>/yarn/new-lot/", lots.plan_new_lot, name="plan_new_lot"),
    path("blankets/<int:blanket_id>/yarn/reserve/", reserve.reserve_yarn, name="reserve_yarn"),
    path("blankets/<int:blanket_id>/yarn/buying/", buying.set_buying, name="set_buying"),
    path("circles/<int:circle_id>/yarn/", store.store_page, name="yarns"),
    path("circles/<int:circle_id>/yarn/new/", store.new_yarn, name="new_yarn"),
    path("yarn/<int:yarn_id>/change/", store.change_yarn, name="change_yarn"),
    path("yarn/<int:yarn_id>/", yarn.yarn_page, name="yarn"),
    path("yarn/<int:yarn_id>/<slug:way>/", yarn.move_yarn, name="move_yarn"),
]
