"""Asking for documents, and fetching them."""

from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

from drives.actions.sheets import finish_sheet, take_sheet
from drives.models import Sheet

from .conftest import World


def asked(world: World) -> str:
    return f"blankets/{world.blanket.pk}/sheets/"


def test_a_sheet_is_asked_for_and_then_looked_after(world: World) -> None:
    answer = world.cora.post(asked(world), {"kind": "status", "paper": "Letter"})

    sheet = answer.json()
    assert answer.status_code == 202
    assert (sheet["status"], sheet["progress"], sheet["file"]) == ("queued", 0, None)
    assert sheet["options"] == {"paper": "Letter"}
    assert sheet["url"] == f"http://testserver/api/v1/sheets/{sheet['id']}/"
    assert world.cora.client.get(sheet["url"]).json() == sheet


def test_the_same_state_gives_the_same_sheet(world: World) -> None:
    first = world.cora.post(asked(world), {"kind": "status"}).json()
    again = world.olga.post(asked(world), {"kind": "status"}).json()
    world.finish("A1")
    later = world.olga.post(asked(world), {"kind": "status"}).json()

    assert first["id"] == again["id"] != later["id"]


def test_a_sheet_that_is_made_can_be_fetched(world: World) -> None:
    sheet = world.cora.post(asked(world), {"kind": "status"}).json()
    early = world.cora.get(f"sheets/{sheet['id']}/file/")
    taken = take_sheet(sheet_id=sheet["id"], now=timezone.now())
    assert taken
    name = default_storage.save("sheets/one.pdf", ContentFile(b"%PDF-1.7 made"))
    finish_sheet(taken=taken, file=name, now=timezone.now())

    made = world.cora.get(f"sheets/{sheet['id']}/").json()
    file: Any = world.cora.client.get(made["file"])

    assert early.status_code == 409
    assert early.json()["type"].endswith("/sheet-not-made")
    assert (made["status"], made["progress"]) == ("done", 100)
    assert (file.status_code, file["Content-Type"]) == (200, "application/pdf")
    assert b"".join(file.streaming_content) == b"%PDF-1.7 made"
    default_storage.delete(name)
    assert world.cora.client.get(made["file"]).status_code == 404


def test_sheets_are_for_organisers_and_coordinators(world: World) -> None:
    sheet = world.cora.post(asked(world), {"kind": "status"}).json()

    for path in (f"sheets/{sheet['id']}/", f"sheets/{sheet['id']}/file/"):
        assert world.vera.get(path).status_code == 403
        assert world.stan.get(path).status_code == 404
        assert world.anybody.get(path).status_code == 401
    assert world.vera.post(asked(world), {"kind": "status"}).status_code == 403
    assert world.stan.post(asked(world), {"kind": "status"}).status_code == 404
    assert Sheet.objects.count() == 1


def test_only_known_documents_are_made(world: World) -> None:
    for body in ({}, {"kind": "poster"}, {"kind": "status", "paper": "A3"}):
        answer = world.cora.post(asked(world), body)
        assert answer.status_code == 422
        assert answer.json()["type"].endswith("/invalid-input")
