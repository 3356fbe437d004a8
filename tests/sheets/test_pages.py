"""The pages of sheets: asking, watching, opening."""

import pytest
from django.test import Client
from django.urls import reverse

from accounts.models import Member
from drives.models import Sheet, Status
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.drives.desk import Desk


def signed_in(client: Client, member: Member) -> Client:
    assert member.user is not None
    client.force_login(member.user)
    return client


@pytest.fixture
def coordinator(client: Client, cast: Cast) -> Client:
    return signed_in(client, cast.cora)


def ask(client: Client, desk: Desk, paper: str = "Letter") -> str:
    """Where asking for a sheet leads."""
    response = client.post(
        reverse("drives:request_sheet", args=[desk.blanket.pk]), {"paper": paper}
    )
    assert response.status_code == 302
    return str(response["Location"])


def test_the_board_offers_it_to_those_who_may(client: Client, cast: Cast, desk: Desk) -> None:
    board = reverse("drives:blanket", args=[desk.blanket.pk])
    asks = f'action="{reverse("drives:request_sheet", args=[desk.blanket.pk])}"'
    assert asks in signed_in(client, cast.cora).get(board).content.decode()
    assert asks not in signed_in(client, cast.vera).get(board).content.decode()


def test_from_asking_to_the_file_without_scripts(coordinator: Client, desk: Desk) -> None:
    where = ask(coordinator, desk)
    sheet = Sheet.objects.get()
    assert where == reverse("drives:sheet", args=[sheet.pk])
    assert sheet.options == {"paper": "Letter"}
    page = coordinator.get(where).content.decode()
    assert "It waits for its turn." in page
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in page
    assert coordinator.get(reverse("drives:sheet_file", args=[sheet.pk])).status_code == 404
    render_sheet(sheet_id=sheet.pk)
    page = coordinator.get(where).content.decode()
    assert f'href="{reverse("drives:sheet_file", args=[sheet.pk])}"' in page
    assert "http-equiv" not in page
    response = coordinator.get(reverse("drives:sheet_file", args=[sheet.pk]))
    assert b"".join(response.streaming_content).startswith(b"%PDF-")  # type: ignore[attr-defined]
    assert response["Content-Type"] == "application/pdf"
    assert response["Cache-Control"] == "private, no-cache"
    day = sheet.requested_at.date().isoformat()
    assert response["Content-Disposition"] == f'inline; filename="blanket-status-{day}.pdf"'


def test_what_is_there_already_opens_at_once(coordinator: Client, desk: Desk) -> None:
    ask(coordinator, desk)
    sheet = Sheet.objects.get()
    render_sheet(sheet_id=sheet.pk)
    assert ask(coordinator, desk) == reverse("drives:sheet_file", args=[sheet.pk])
    assert Sheet.objects.count() == 1


def test_scripts_fetch_only_what_has_changed(coordinator: Client, desk: Desk) -> None:
    where = ask(coordinator, desk)
    assert f'hx-get="{where}?seen=queued-0"' in coordinator.get(where).content.decode()
    assert coordinator.get(where, {"seen": "queued-0"}).status_code == 204
    Sheet.objects.update(status=Status.RENDERING, progress=20)
    part = coordinator.get(where, {"seen": "queued-0"}).content.decode()
    assert "It is being made." in part
    assert 'value="20"' in part
    assert f'hx-get="{where}?seen=rendering-20"' in part
    assert "<html" not in part
    Sheet.objects.update(status=Status.QUEUED)
    render_sheet(sheet_id=Sheet.objects.get().pk)
    answer = coordinator.get(where, {"seen": "rendering-20"})
    assert answer["HX-Redirect"] == f"{where}file/"


def test_failure_is_told_and_may_be_tried_again(coordinator: Client, desk: Desk) -> None:
    where = ask(coordinator, desk)
    Sheet.objects.update(status=Status.FAILED, error="It took too long to make.")
    page = coordinator.get(where).content.decode()
    assert "It took too long to make." in page
    assert "hx-get" not in page
    assert ask(coordinator, desk) != where


def test_other_papers_are_refused_in_words(coordinator: Client, desk: Desk) -> None:
    address = reverse("drives:request_sheet", args=[desk.blanket.pk])
    response = coordinator.post(address, {"paper": "A0"})
    assert response.status_code == 422
    assert "Please choose the paper." in response.content.decode()
    assert not Sheet.objects.exists()


def test_a_file_that_is_gone_is_not_found(coordinator: Client, desk: Desk) -> None:
    ask(coordinator, desk)
    sheet = Sheet.objects.get()
    render_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    sheet.file.storage.delete(sheet.file.name or "")
    assert coordinator.get(reverse("drives:sheet_file", args=[sheet.pk])).status_code == 404
