"""The addresses of drives, blankets and squares."""

from django.urls import include, path

from drives.pages import (
    absences,
    acts,
    blanket,
    calendar,
    circle,
    codes,
    drive,
    exports,
    finders,
    forecast,
    hand_overs,
    home,
    layout,
    letters,
    meetings,
    panels,
    pieces,
    plan,
    sheets,
    square,
)

app_name = "drives"

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
    path("code/renew/", codes.renew_square_code, name="renew_square_code"),
]

urlpatterns = [
    path("", home.home, name="home"),
    path("circles/<int:circle_id>/", circle.circle, name="circle"),
    path("circles/<int:circle_id>/drives/new/", drive.new_drive, name="new_drive"),
    path("drives/<int:drive_id>/", drive.drive, name="drive"),
    path("drives/<int:drive_id>/settings/", drive.drive_settings, name="drive_settings"),
    path("drives/<int:drive_id>/plan/", plan.plan, name="plan"),
    path("drives/<int:drive_id>/plan/layout/", layout.new_blanket, name="new_blanket"),
    path("blankets/<int:blanket_id>/", blanket.blanket, name="blanket"),
    path("blankets/<int:blanket_id>/live/", blanket.live, name="live"),
    path("blankets/<int:blanket_id>/log/", blanket.log, name="log"),
    path("blankets/<int:blanket_id>/layout/", layout.change_layout, name="layout"),
    path("blankets/<int:blanket_id>/takes/", layout.what_it_takes, name="what_it_takes"),
    path("blankets/<int:blanket_id>/squares/<str:place>/", include(squares)),
    *pieces.urlpatterns,
    *hand_overs.urlpatterns,
    *meetings.urlpatterns,
    *absences.urlpatterns,
    *sheets.urlpatterns,
    *codes.urlpatterns,
    *letters.urlpatterns,
    *finders.urlpatterns,
    *exports.urlpatterns,
    *calendar.urlpatterns,
    *forecast.urlpatterns,
    *panels.urlpatterns,
]
