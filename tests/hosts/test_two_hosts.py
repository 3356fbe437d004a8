"""Two hosts with nothing in common but PostgreSQL, Redis, an object storage and a mail server."""

import email
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

from shared.serving import processes
from tests.cast import PASSWORD
from tests.hosts.proxy import in_turns
from tests.hosts.visitor import Page, Visitor
from tests.mail_server import MailServer, running
from tests.services import object_storage
from tests.shared.site import Site, environment, eventually

GRID = {
    "columns": 3, "rows": 3, "stitches": 20, "mitre": "paired", "corner_trade": "on",
    "missing": "", "large": "", "seams": "", "brush": 1, "past": "", "gauge": 20, "do": "save",
}  # fmt: skip
PATIENCE_SECONDS = 90.0
PAUSE_SECONDS = 0.5  # each look is a whole page, made while the workers should get on


@dataclass
class World:
    """``url`` is that of the proxy before both; ``drive`` the id of one that waits for blankets."""

    sites: list[Site]
    folders: list[Path]
    shared: dict[str, str]
    mail: MailServer
    url: str
    drive: str = ""

    @property
    def hosts(self) -> list[str]:
        return [f"http://127.0.0.1:{site.port}" for site in self.sites]

    def run(self, *command: str) -> str:
        """What a program says that runs on the second host."""
        env = environment(self.folders[1]) | self.shared
        done = subprocess.run(
            [sys.executable, *command],
            env=env, cwd=processes.BASE_DIR, check=False, capture_output=True, text=True,
        )  # fmt: skip
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout.strip()

    def visitor(self, name: str) -> Visitor:
        made = Visitor(self.url)
        made.sign_in(name, PASSWORD)
        return made


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    server, name = os.environ["MITREWISE_TEST_DATABASE"], "of_two_hosts"
    with ExitStack() as opened:
        database = opened.enter_context(psycopg.connect(server, autocommit=True))
        database.execute(f"CREATE DATABASE {name}")
        opened.callback(database.execute, f"DROP DATABASE {name} WITH (FORCE)")
        mail = opened.enter_context(running(MailServer()))
        shared = {
            "MITREWISE_DATABASE_URL": urlsplit(server)._replace(path=f"/{name}").geturl(),
            "MITREWISE_REDIS_URL": urlsplit(os.environ["MITREWISE_TEST_REDIS"])
            ._replace(path="/10")
            .geturl(),
            "MITREWISE_STORAGE_URL": opened.enter_context(object_storage()),
            "MITREWISE_SMTP_URL": f"smtp://127.0.0.1:{mail.port}",
            "MITREWISE_SECRET_KEY": "the same on both hosts, so that a session is good for both",
            "MITREWISE_WEB_PROCESSES": "1",
        }
        folders = [tmp_path / "a", tmp_path / "b"]
        for folder in folders:
            folder.mkdir()
        made = World([], folders, shared, mail, "")
        opened.callback(stop_all, made.sites)
        drive = made.run("-m", "tests.hosts.story", "begin")
        made.sites += [Site(folder, **shared) for folder in folders]
        made.drive = drive
        for site in made.sites:
            eventually(site.was_announced, PATIENCE_SECONDS)
        made.url = opened.enter_context(in_turns([site.port for site in made.sites]))
        yield made


def stop(site: Site) -> None:
    """At once, and all of it: how a site ends is tested elsewhere."""
    site.process.send_signal(signal.SIGTERM)
    try:
        site.process.wait(20)
    finally:
        processes.bury(site.process)


def stop_all(sites: list[Site]) -> None:
    for site in sites:
        stop(site)


def reads(reader: Visitor, path: str, words: str, world: World) -> None:
    """Both hosts say so, now."""
    for host in world.hosts:
        assert words in reader.get(path, at=host).text


def waits(reader: Visitor, path: str, words: str, world: World) -> None:
    """Both hosts say so in the end; which of them asked and which of them worked is chance."""
    for host in world.hosts:
        eventually(partial(_reads, reader, path, words, host), PATIENCE_SECONDS, PAUSE_SECONDS)


def _reads(reader: Visitor, path: str, words: str, host: str) -> bool:
    return words in reader.get(path, at=host).text


def attached(letter: str) -> list[bytes]:
    parts = email.message_from_string(letter).walk()
    pdfs = (part for part in parts if part.get_content_type() == "application/pdf")
    return [bytes(part.get_payload(decode=True)) for part in pdfs]


def plan_blanket(olga: Visitor, world: World, name: str) -> str:
    """Its address."""
    form = f"/drives/{world.drive}/plan/layout/"
    olga.get(form + "?columns=3&rows=3&stitches=20&gauge=20.0")
    made: Page = olga.press(form, **GRID, name=name)
    assert f"{name} is planned." in made.text
    found = re.match(r"/blankets/\d+/", made.path)
    assert found
    return found[0]


@pytest.mark.postgres
@pytest.mark.redis
def test_the_whole_job_is_done_on_whichever_host_one_meets(world: World) -> None:
    olga, cora, vera = (world.visitor(name) for name in ("olga", "cora", "vera"))

    # Planned, claimed and finished, each step on another host; both know it at once.
    blankets = [plan_blanket(olga, world, name) for name in ("Waves", "Dunes", "Hills")]
    blanket = blankets[0]
    reads(vera, blanket, "0 of 9", world)
    vera.press(f"{blanket}squares/A1/claim/")
    reads(cora, blanket, "Vera", world)
    vera.press(f"{blanket}squares/A1/finish/")
    reads(cora, blanket, "1 of 9", world)

    # Printed by one, handed out by both.
    sheet = cora.press(f"{blanket}sheets/", kind="status", paper="A4").path
    waits(cora, sheet, f'href="{sheet}file/"', world)
    one, other = (cora.get(f"{sheet}file/", at=host).body for host in world.hosts)
    assert one.startswith(b"%PDF-")
    assert one == other

    # Foretold by one, read on both.
    olga.press(f"{blanket}forecast/")
    waits(vera, f"{blanket}forecast/", "What would change it", world)
    reads(vera, blanket, "the whole forecast", world)

    # Letters have their sheets, whoever made them and whoever sends.
    world.run("-m", "tests.hosts.story", "weekly")
    eventually(lambda: len(world.mail.got) >= 3, PATIENCE_SECONDS)
    assert [len(attached(letter)) for letter in world.mail.got] == [len(blankets)] * 3

    assert not any((folder / "files").exists() for folder in world.folders)
    assert world.run("manage.py", "audit") == ""

    # One host goes down, all of it; the other goes on.
    stop(world.sites.pop(0))
    (left,) = world.hosts
    assert "1 of 9" in vera.get(blanket, at=left).text
    assert cora.get(f"{sheet}file/", at=left).body == one
