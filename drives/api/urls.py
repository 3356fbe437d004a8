"""The addresses of the API, under ``/api/v1/``."""

from django.urls import URLPattern, URLResolver, include, path, re_path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

from drives.api.views import (
    about,
    acts,
    blankets,
    buying,
    checks,
    circles,
    colours,
    drives,
    events,
    forecast,
    gauge,
    panels,
    pieces,
    plan,
    rota,
    rules,
    sheets,
    squares,
    yarns,
)

app_name = "api"

to_docs = RedirectView.as_view(pattern_name="api:docs", http_method_names=["get", "head"])

square: list[URLPattern] = [
    path("", squares.SquareView.as_view(), name="square"),
    path("claim/", acts.ClaimSquareView.as_view(), name="claim"),
    path("give-back/", acts.GiveBackSquareView.as_view(), name="give-back"),
    path("finish/", acts.FinishSquareView.as_view(), name="finish"),
    path("colours/", colours.PossibleColoursView.as_view(), name="possible-colours"),
    path("colour/", acts.ChooseColourView.as_view(), name="colour"),
    path("weigh/", acts.WeighSquareView.as_view(), name="weigh"),
    path("measure/", gauge.MeasureSquareView.as_view(), name="measure"),
    path("rip-back/", acts.RipBackSquareView.as_view(), name="rip-back"),
    path("extend/", acts.ExtendClaimView.as_view(), name="extend"),
    path("release/", acts.ReleaseClaimView.as_view(), name="release"),
]

piece: list[URLPattern] = [
    path("hand-overs/", pieces.ArrangeHandOverView.as_view(), name="hand-overs"),
    path("leave-line/", pieces.LeaveQueueView.as_view(), name="leave-line"),
    path("lost/", pieces.DeclarePieceLostView.as_view(), name="lost"),
]

hand_over: list[URLPattern] = [
    path("send/", pieces.SendPieceView.as_view(), name="send"),
    path("receive/", pieces.ReceivePieceView.as_view(), name="receive"),
    path("cancel/", pieces.CancelHandOverView.as_view(), name="cancel"),
]

blanket: list[URLPattern | URLResolver] = [
    path("", blankets.BlanketView.as_view(), name="blanket"),
    path("needs/", blankets.BlanketNeedsView.as_view(), name="blanket-needs"),
    path("squares/", squares.SquaresView.as_view(), name="squares"),
    path("squares/<str:place>/", include(square)),
    path("checks/", checks.BlanketChecksView.as_view(), name="blanket-checks"),
    path("gauge/", gauge.GaugeView.as_view(), name="gauge"),
    path("colours/", colours.ColoursView.as_view(), name="colours"),
    path("colours/propose/", colours.ProposeColoursView.as_view(), name="propose-colours"),
    path("palette/", colours.PaletteView.as_view(), name="palette"),
    path("paint/", colours.PaintView.as_view(), name="paint"),
    path("yarn/", buying.YarnOfBlanketView.as_view(), name="blanket-yarn"),
    path("yarn/reservations/", buying.ReservationsView.as_view(), name="reservations"),
    path("yarn/lots/", buying.LotsView.as_view(), name="lots"),
    path("yarn/new-lot/", buying.NewLotView.as_view(), name="new-lot"),
    path("pieces/", pieces.PiecesView.as_view(), name="pieces"),
    path("sheets/", sheets.SheetsView.as_view(), name="sheets"),
    path("forecast/", forecast.ForecastView.as_view(), name="forecast"),
    path("panels/", panels.PanelsView.as_view(), name="panels"),
    path("rota/", rota.RotaView.as_view(), name="rota"),
    path("rota/accept/", rota.AcceptRotaView.as_view(), name="accept-rota"),
    path("rota/decline/", rota.DeclineRotaView.as_view(), name="decline-rota"),
    path("rota/take-back/", rota.TakeBackRotaView.as_view(), name="take-back-rota"),
    path("events/", events.EventsView.as_view(), name="events"),
]

urlpatterns = [
    path("", to_docs, name="root"),
    path("schema/", SpectacularAPIView.as_view(), name="schema"),
    path("docs/", SpectacularSwaggerSplitView.as_view(url_name="api:schema"), name="docs"),
    path("problems/", about.problems_page, name="problems"),
    path("problems/<slug:code>", about.problem_page, name="problem"),
    path("plan/", plan.PlanView.as_view(), name="plan"),
    path("plan/panels/", plan.PlanPanelsView.as_view(), name="plan-panels"),
    path("plan/needs/", plan.NeedsView.as_view(), name="needs"),
    path("plan/sizes/", plan.SizesView.as_view(), name="sizes"),
    path("plan/typical-sizes/", plan.TypicalSizesView.as_view(), name="typical-sizes"),
    path("plan/rows/", plan.RowsView.as_view(), name="rows"),
    path("circles/", circles.CirclesView.as_view(), name="circles"),
    path("circles/<int:circle_id>/members/", circles.MembersView.as_view(), name="members"),
    path("circles/<int:circle_id>/yarns/", yarns.YarnsView.as_view(), name="yarns"),
    path("yarns/<int:yarn_id>/", yarns.YarnView.as_view(), name="yarn"),
    path("yarns/<int:yarn_id>/moves/", yarns.MoveYarnView.as_view(), name="yarn-moves"),
    path("yarns/<int:yarn_id>/checks/", checks.YarnChecksView.as_view(), name="yarn-checks"),
    path("drives/", drives.DrivesView.as_view(), name="drives"),
    path("drives/<int:drive_id>/rules/", rules.RulesView.as_view(), name="rules"),
    path("drives/<int:drive_id>/checks/", checks.DriveChecksView.as_view(), name="drive-checks"),
    path("drives/<int:drive_id>/checks/plan/", checks.PlanChecksView.as_view(), name="plan-checks"),
    path(
        "drives/<int:drive_id>/checks/overrule/",
        checks.OverruleConflictView.as_view(),
        name="overrule",
    ),
    path(
        "drives/<int:drive_id>/checks/uphold/", checks.UpholdConflictView.as_view(), name="uphold"
    ),
    path("blankets/", blankets.BlanketsView.as_view(), name="blankets"),
    path("blankets/<int:blanket_id>/", include(blanket)),
    path("pieces/<int:piece_id>/", include(piece)),
    path("hand-overs/<int:hand_over_id>/", include(hand_over)),
    path("sheets/<int:sheet_id>/", sheets.SheetView.as_view(), name="sheet"),
    path("sheets/<int:sheet_id>/file/", sheets.SheetFileView.as_view(), name="sheet-file"),
    re_path("", about.Nothing.as_view(), name="nothing"),
]
