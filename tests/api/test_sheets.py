"""Asking for documents, and fetching them."""

from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone
from django.utils.timezone import localdate

from drives.actions.paper.sheets import finish_sheet, take_sheet
from drives.models import Drive, Meeting, Piece, Sheet
from drives.sheets.kinds import PRINTED

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


def test_every_printed_document_can_be_asked_for_with_its_choices(world: World) -> None:
    drive = Drive.objects.get(blankets=world.blanket)
    meeting = Meeting.objects.create(drive=drive, day=localdate())
    world.finish("A1")
    choices: dict[str, dict[str, object]] = {
        "cards": {"places": ["B1", "A2"], "to_a_page": 2, "hand": "left"},
        "wall": {"tiled": False},
        "meeting": {"meeting": meeting.pk},
        "label": {"piece": Piece.objects.get().pk},
        "set": {"to_a_page": 2},
    }
    for kind in PRINTED:
        body = {"ink": "black", "print": "large", **choices.get(kind, {})}
        answer = world.cora.post(asked(world), {"kind": kind, **body})
        assert answer.status_code == 202, answer.json()
        options = answer.json()["options"]
        assert {**options, "places": sorted(options.get("places", []))} == {
            "paper": "A4",
            **body,
            "places": sorted(body.get("places", [])),  # type: ignore[call-overload]
        }
        row = Sheet.objects.get(pk=answer.json()["id"])
        assert row.in_batch == (kind == "set")


def test_the_circles_own_english_is_the_same_as_none(world: World) -> None:
    plain = world.cora.post(asked(world), {"kind": "status"}).json()
    british = world.cora.post(asked(world), {"kind": "status", "english": "british"}).json()
    american = world.cora.post(asked(world), {"kind": "status", "english": "american"}).json()
    assert plain["id"] == british["id"] != american["id"]


def test_cards_to_knit_from_and_labels_are_for_every_member(world: World) -> None:
    card = world.vera.post(asked(world), {"kind": "cards", "places": ["A1"]})
    assert card.status_code == 202
    assert world.vera.get(f"sheets/{card.json()['id']}/").status_code == 200
    world.olga.post(world.at("A1", "claim"))
    for places in (["A1"], ["B2"], []):
        body = {"kind": "cards", "places": places}
        assert world.vera.post(asked(world), body).status_code == 403


def test_what_does_not_fit_is_told_field_by_field(world: World) -> None:
    for body, field, words in (
        ({"kind": "status", "tiled": True}, "tiled", "has no use for this"),
        ({"kind": "cards", "places": ["A1", "Z9"]}, "places", "No squares of this blanket: Z9."),
        ({"kind": "cards", "to_a_page": 3}, "to_a_page", "from 1 to 2"),
        ({"kind": "label"}, "piece", "the id of a piece"),
        ({"kind": "label", "piece": 4711}, "piece", "the id of a piece"),
        ({"kind": "meeting", "meeting": 4711}, "meeting", "the id of a meeting"),
        ({"kind": "set", "paper": "A3"}, "paper", "A4, Letter"),
    ):
        answer = world.cora.post(asked(world), body)
        assert answer.status_code == 422
        (error,) = answer.json()["errors"]
        assert error["field"] == field
        assert words in error["detail"]


def test_only_known_documents_are_made(world: World) -> None:
    for body in ({}, {"kind": "poster"}, {"kind": "status", "paper": "A3"}):
        answer = world.cora.post(asked(world), body)
        assert answer.status_code == 422
        assert answer.json()["type"].endswith("/invalid-input")
