"""All that is said of a kind stands in its file, and everything else asks that."""

from pathlib import Path

import pytest
from django.template.loader import get_template
from django.test import Client
from django.urls import reverse

from drives.models import Options, Sheet, Status
from drives.sheets import kinds
from drives.sheets.kind import Document
from drives.sheets.kinds import KINDS, LABEL, PRINTED
from drives.sheets.tasks import forget_sheets, render_sheet
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.sheets.conftest import ask

FOLDER = Path(kinds.__file__).parent


def test_each_file_tells_one_kind_and_each_is_listed() -> None:
    assert {file.stem for file in FOLDER.glob("[!_]*.py")} == KINDS.keys()
    assert {file.name for file in FOLDER.glob("*.css")} == {
        kind.style for kind in PRINTED.values() if kind.style
    }


@pytest.mark.parametrize("kind", PRINTED.values(), ids=str)
def test_a_document_has_a_template_and_choices_that_there_are(kind: Document) -> None:
    get_template(f"sheets/{kind.code}.html")
    assert {*kind.choices} <= Options.__dataclass_fields__.keys()
    assert {*kind.needs} <= {*kind.uses}
    assert kind.label
    assert kind.purpose
    assert len(kind.code) <= (Sheet._meta.get_field("kind").max_length or 0)


def test_a_kind_that_is_no_more_is_nowhere_and_is_forgotten_in_time(
    client: Client, desk: Desk, cast: Cast
) -> None:
    sheet = ask(desk.blanket, cast)
    render_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    Sheet.objects.update(kind="poster")
    assert cast.cora.user
    client.force_login(cast.cora.user)
    assert client.get(reverse("drives:sheet", args=[sheet.pk])).status_code == 404
    assert client.get(reverse("drives:sheet_file", args=[sheet.pk])).status_code == 404
    forget_sheets()
    assert sheet.file.storage.exists(sheet.file.name or "")
    Sheet.objects.update(requested_at=NOW.replace(year=2020))
    forget_sheets()
    assert not Sheet.objects.exists()
    assert not sheet.file.storage.exists(sheet.file.name or "")


def test_a_kind_that_is_no_more_fails_in_words(desk: Desk, cast: Cast) -> None:
    sheet = ask(desk.blanket, cast)
    Sheet.objects.update(kind="poster", attempt=2)
    render_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    assert (sheet.status, sheet.error) == (Status.FAILED, "our-side")
    assert sheet.trouble == "Something went wrong on our side."


def test_what_a_document_cannot_do_without_is_asked_for(
    client: Client, desk: Desk, cast: Cast
) -> None:
    """Without a piece there is nothing to label, so none is offered."""
    assert LABEL.needs == ("piece",)
    assert cast.cora.user
    client.force_login(cast.cora.user)
    address = reverse("drives:print", args=[desk.blanket.pk])
    assert b'value="label"' not in client.get(address).content
    desk.knit("A1", cast.vera)
    assert b'value="label"' in client.get(address).content
