"""All that people read is said in the reader's language: in one of brackets, nothing is bare."""

import io
import json
from collections.abc import Iterator
from copy import deepcopy
from datetime import timedelta
from functools import cache

import pytest
from django.core import mail
from django.db import transaction
from django.http import HttpResponseBase
from django.test import Client, override_settings
from django.utils import timezone, translation
from openpyxl import load_workbook
from pytest_django import DjangoDbBlocker, Settings

from accounts.models import Circle
from accounts.tasks import mail_invitation
from drives.actions.pieces.hand_overs import send_piece
from drives.models import Blanket, Options, Sheet
from drives.sheets.kinds import PRINTED
from tests.conftest import forget
from tests.letters.conftest import post
from tests.matrix.world import World, make_world
from tests.postman import outbox
from tests.pseudo import Data, Page, outside, speak_it, strings
from tests.test_access_matrix import LINES, ROLES, Line, address, just_asked

pytestmark = pytest.mark.django_db

READERS = ("anonymous", "volunteer", "organiser")
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

NOT_FOR_READERS = ("health",)
"""For machines, and whoever runs them."""


@pytest.fixture(scope="module", autouse=True)
def _language(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    folder = tmp_path_factory.mktemp("locale")
    speak_it(folder)
    with override_settings(LOCALE_PATHS=[folder]):
        yield


@pytest.fixture(scope="module")
def world(
    _language: None, django_db_setup: None, django_db_blocker: DjangoDbBlocker
) -> Iterator[World]:
    forget()
    with django_db_blocker.unblock(), transaction.atomic():
        world = make_world()
        Circle.objects.update(english="american")
        yield world
        transaction.set_rollback(True)


@pytest.fixture(scope="module")
def data(world: World) -> Data:
    return Data()


def said(answer: HttpResponseBase) -> list[str]:
    """The texts of an answer that stand in no brackets."""
    kind = answer.headers.get("Content-Type", "").partition(";")[0]
    content = b"".join(answer) if answer.streaming else answer.content  # type: ignore[attr-defined]
    match kind:
        case "text/html" | "image/svg+xml":
            return Page(content.decode()).bare
        case "application/json" | "application/problem+json":
            return list(strings(json.loads(content)))
        case "text/calendar":
            lines = content.decode().replace("\r\n ", "").splitlines()
            told = [line.partition(":")[2] for line in lines if line.startswith("SUMMARY")]
            return [outside(line)[0] for line in told]
        case "text/csv":
            return [outside(content.decode("utf-8-sig").splitlines()[0])[0]]
        case _ if kind == WORKBOOK:
            book = load_workbook(io.BytesIO(content))
            cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
            return [outside(str(cell.value or ""))[0] for cell in cells]
    return []


def typed_in(sent: object) -> Iterator[object]:
    """Every value of a body, however deep."""
    match sent:
        case dict():
            for each in sent.values():
                yield from typed_in(each)
        case list():
            for each in sent:
                yield from typed_in(each)
        case _:
            yield sent


def answer_to(world: World, role: str, line: Line, sent: dict[str, object]) -> HttpResponseBase:
    """What is answered; whatever it did is undone."""
    forget()
    client = readers(world)[role]
    path = address(world, line.url, line.parts)
    cookies = deepcopy(client.cookies)
    with transaction.atomic():
        if line.method == "POST" and not path.startswith("/api/"):
            answer = client.post(path, sent, follow=True)
        else:
            content = "" if line.method == "GET" else json.dumps(sent)
            answer = client.generic(line.method, path, content, "application/json")
        transaction.set_rollback(True)
    client.cookies = cookies
    return answer


@cache
def readers(world: World) -> dict[str, Client]:
    """One client for each reader: to make one takes longer than most pages."""
    clients = {role: Client(headers={"Accept-Language": "en-us"}) for role in READERS}
    for role, client in clients.items():
        if user := world.user(role):
            client.force_login(user)
            just_asked(client)
    return clients


def test_every_page_and_every_answer(world: World, data: Data) -> None:
    found: dict[str, set[str]] = {}
    same: set[tuple[str, bool]] = set()
    for line in LINES:
        if line.url.startswith(NOT_FOR_READERS):
            continue
        body = world.fill(line.body).replace("british", "american") if line.body else "{}"
        sent = json.loads(body)
        for role in READERS:
            outcome = line.outcomes[ROLES.index(role)]
            if outcome in ("login", "404", "405"):  # the same page for all of them
                if (key := (outcome, line.url.startswith("api:"))) in same:
                    continue
                same.add(key)
            answer = answer_to(world, role, line, sent)
            if line.method == "GET" and outcome != "login":
                assert str(answer.status_code) == outcome, (role, line)
            told = [*said(answer), *said_in_mails()]
            for words in data.words(told, typed_in(sent)):
                found.setdefault(words, set()).add(line.url)
    told = [f"{', '.join(sorted(urls)[:3])}: {words}" for words, urls in found.items()]
    assert not told, "\n".join(["", *sorted(told)])


@pytest.mark.parametrize("kind", PRINTED)
def test_every_document(world: World, data: Data, kind: str) -> None:
    for blanket in Blanket.objects.select_related("drive__circle"):
        piece = blanket.pieces.first()
        options = Options(piece=piece.pk if piece else None)
        sheet = Sheet(pk=1, blanket=blanket, kind=kind, options=options.stored())
        with translation.override(sheet.chosen.locale_in(blanket.drive.circle)):
            drafts = [next(part) for part in PRINTED[kind].parts(sheet, timezone.now())]
        assert data.words(text for draft in drafts for text in Page(draft).bare) == []


def test_every_letter(world: World, data: Data, settings: Settings) -> None:
    now = timezone.now()
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    with transaction.atomic():
        send_piece(hand_over=world.hand_over, note="", by=world.cast.vera, now=now)
        for days in range(23):
            post((now + timedelta(days=days)).replace(hour=10))
        world.invitation.email = "ada@example.org"
        world.invitation.save(update_fields=["email"])
        mail_invitation(invitation_id=world.invitation.pk, token=world.token)
        outbox()
        transaction.set_rollback(True)
    subjects = {message.subject for message in mail.outbox}
    assert len(subjects) > 5, subjects
    assert data.words(said_in_mails()) == []


def said_in_mails() -> list[str]:
    """What was sent since, in no brackets."""
    told = [
        outside(line)[0]
        for message in outbox()
        for line in (str(message.subject), *outside(str(message.body))[0].splitlines())
    ]
    mail.outbox.clear()
    return told


@pytest.mark.parametrize(
    "planted",
    [
        "<p>Bare words</p>",
        '<p>⟦In brackets⟧<img alt="bare"></p>',
        "<p>⟦Due on ⟧3 ⟦November⟧ at noon</p>",
        "<p>⟦⟦Bare⟧ ⟧after</p>",
        '<style>@page { @bottom-left { content: "⟦page⟧ of" } }</style>',
    ],
)
def test_a_bare_text_is_found(world: World, data: Data, planted: str) -> None:
    home = Line("drives:home", "GET", (), {}, "")
    page = answer_to(world, "organiser", home, {}).content.decode()  # type: ignore[attr-defined]

    assert data.words(Page(page).bare) == []
    assert data.words(Page(page.replace("</main>", f"{planted}</main>")).bare) != []
