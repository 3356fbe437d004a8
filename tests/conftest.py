"""What every test may ask for."""

import functools
import os
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles.handlers import StaticFilesHandler
from django.core.cache import cache
from django.db.backends.postgresql.operations import DatabaseOperations
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, sync_playwright
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from accounts.models import Member, Role
from drives.audit import audit
from drives.craft.layout.layout import Layout
from drives.models import blanket
from drives.sheets import chances
from shared.workers import queue
from tests.cast import Cast, bring, login, make_cast
from tests.desk import DAY, NOW, Desk, new_blanket

OTHER_SERVERS = ("postgres", "redis")
ONLY_THEIRS = " or ".join(OTHER_SERVERS)  # what the second pass of ./dev test selects
SAYS_SO = re.compile(r"mark\.(postgres|redis)|\bRACES\b")


@functools.cache
def _says_so(file: Path) -> bool:
    return file.exists() and bool(SAYS_SO.search(file.read_text()))


def _may_need_servers(file: Path) -> bool:
    """Either it says so itself, or what its fixtures come from does."""
    rooms = [room for room in file.parents if Path(__file__).parent in room.parents]
    return any(_says_so(place) for place in [file, *(room / "conftest.py" for room in rooms)])


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """The pass with other servers need not read all the files that have nothing for it."""
    if config.option.markexpr == ONLY_THEIRS and collection_path.match("test_*.py"):
        return not _may_need_servers(collection_path) or None
    return None


@pytest.hookimpl(tryfirst=True)  # before -m leaves any of them out
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tests that need other servers wait for the pass that has them, and it must find them."""
    if "MITREWISE_TEST_DATABASE" in os.environ:
        return
    for item in items:
        for service in OTHER_SERVERS:
            if item.get_closest_marker(service):
                if not _may_need_servers(item.path):
                    raise pytest.UsageError(f"The second pass would not read {item.path}")
                item.add_marker(pytest.mark.skip(reason="runs by ./dev test --postgres"))


def _deletes(
    self: DatabaseOperations, style: object, tables: list[str], **options: bool
) -> list[str]:
    return [f"DELETE FROM {self.quote_name(table)}" for table in tables]


@pytest.fixture(scope="session", autouse=True)
def _emptied_by_deletes() -> Iterator[None]:
    """PostgreSQL takes 0.3 s to truncate tables between two tests, and no time to empty them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DatabaseOperations, "sql_flush", _deletes)
        yield


@pytest.fixture(scope="session", autouse=True)
def _static_files_from_where_they_lie() -> Iterator[None]:
    """The live site knows the app of static files by its name alone, and ours has another."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("django.test.testcases._StaticFilesHandler", StaticFilesHandler)
        yield


@pytest.fixture(scope="session", autouse=True)
def _held_without_beats() -> Iterator[None]:
    """What takes longer than a beat would wait twenty seconds more, and the busier the machine is
    the oftener: a beat has a connection of its own, and SQLite lets it write only when the
    transaction of the test has ended. Workers in processes of their own do beat.
    """

    def held(beat: object, *, every: float) -> AbstractContextManager[None]:
        return nullcontext()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("accounts.post.held", held)
        patch.setattr("drives.sheets.tasks.held", held)
        yield


@pytest.fixture(scope="session", autouse=True)
def _forecasts_of_few_runs() -> Iterator[None]:
    """Enough for what is told of them; tests/craft tests how well they come true."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chances, "LEAST", 100)
        patch.setattr(chances, "MOST", 100)
        yield


def forget() -> None:
    """Rows of a test that was rolled back come again with the same id at the same moment.

    And a queue that a test has taken away is there again.
    """
    blanket._plan_of.cache_clear()
    cache.clear()
    queue.circuit.forget()


@pytest.fixture(autouse=True)
def _nothing_remembered() -> None:
    forget()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests of a process; the system's, else Playwright's own."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"))
        yield browser
        browser.close()


@pytest.fixture
def visitor(browser: Browser, live_server: LiveServer) -> Iterator[BrowserContext]:
    """A fresh browser profile on the live site; paths are enough as addresses."""
    context = browser.new_context(base_url=live_server.url)
    context.set_default_timeout(10_000)
    yield context
    context.close()


@pytest.fixture
def page(visitor: BrowserContext) -> Iterator[Page]:
    """A page in that profile. The test fails where a script fails or the browser blocks a part."""
    page = visitor.new_page()
    complaints: list[str] = []

    def listen(message: ConsoleMessage) -> None:
        # That a server says 403 or 409 is reported as an error too, but may be what is tested.
        if message.type == "error" and "the server responded with a status" not in message.text:
            complaints.append(message.text)

    page.on("console", listen)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    assert complaints == []


# --- The people and their blankets. A room whose tests need others has a conftest of its own. ---


@pytest.fixture
def came_in() -> datetime:
    """When the cast did; for pages long before the real now, which is what they go by."""
    return NOW - 30 * DAY


@pytest.fixture
def cast(db: None, came_in: datetime) -> Cast:
    return make_cast(came_in)


@pytest.fixture
def will(cast: Cast, came_in: datetime) -> Member:
    """A second volunteer."""
    return bring(cast.olga, login("Will"), Role.VOLUNTEER, now=came_in)


Plan = Callable[..., Desk]


@pytest.fixture
def plan(cast: Cast) -> Plan:
    """Makes a blanket of so many columns and rows; the rest is for its layout or its drive."""

    def make(columns: int = 2, rows: int = 2, *, layout: Layout | None = None, **more: Any) -> Desk:
        of_layout = {
            name: more.pop(name)
            for name in ("missing", "large", "seams", "mitre", "corner_trade")
            if name in more
        }
        drawn = layout or Layout(columns, rows, more.pop("stitches", 20), **of_layout)
        return Desk(new_blanket(cast.olga, drawn, **more))

    return make


@pytest.fixture
def all_is_well_afterwards(transactional_db: None) -> Iterator[None]:
    """Whatever met in the test, the audit has nothing to say."""
    yield
    assert list(audit()) == []


@pytest.fixture
def desk(plan: Plan) -> Desk:
    """2 × 2 squares of 20 stitches, 20 cm × 20 cm; nothing is begun."""
    return plan()


@pytest.fixture
def own_files(settings: Settings, tmp_path: Path) -> None:
    """The test begins without files: documents of the last one had the same ids."""
    settings.MEDIA_ROOT = tmp_path
