"""``manage.py serve``: the whole site under one roof."""

import argparse
import http.client
import os
import signal
import socket
import sys
from collections.abc import Sequence
from pathlib import Path

from django.conf import settings
from django.core.management import BaseCommand, CommandParser, call_command
from django.db import connections

from shared import needs
from shared.needs import troubles
from shared.serving.listening import hand_on, listen
from shared.serving.running import Running, running_hosts
from shared.serving.services import PARTS, services
from shared.serving.supervisor import Supervisor
from shared.telling.counted import forget_the_dead


class Command(BaseCommand):
    help = "Serve the site: web server, worker and scheduler, until Ctrl-C stops them together."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="the address to listen on")
        parser.add_argument("--port", type=_port, default=8000, help="the port to listen on")
        parser.add_argument(
            "--only",
            nargs="+",
            choices=PARTS,
            default=PARTS,
            metavar="PART",
            help="some of the parts, where hosts share them: web, worker, beat (the scheduler)",
        )
        parser.add_argument(
            "--demo",
            action="store_true",
            help="first migrate the database and, once, fill it with the demo",
        )

    def handle(
        self, *, host: str, port: int, only: Sequence[str], demo: bool, **options: object
    ) -> None:
        # It would end us, until there is a supervisor that knows what it means.
        signal.signal(signal.SIGUSR1, signal.SIG_IGN)
        listening = listen(host, port) if "web" in only else None
        # Messages and uploads pass through it: not where others can look.
        os.environ["TMPDIR"] = str(_made(settings.DATA_DIR / "temporary"))
        running = Running()
        forget_the_dead(running_hosts())
        if demo:
            self._prepare()
        self._say_what_is_missing()
        connections.close_all()
        if not settings.PRODUCTION:
            # The worker's e-mails lead to where we are.
            os.environ.setdefault("MITREWISE_SITE_URL", f"http://{host}:{port}")
        answered = False

        def announce() -> None:
            nonlocal answered
            if not answered and (listening is None or _answers(host, port)):
                answered = True
                running.answers()
                self._welcome(host, port, only)

        supervisor = Supervisor(services(listening, only))
        if supervisor.run(tick=announce, say=self._say, report=troubles.note):
            _begin_anew(listening)
        running.ends()
        self._say("Everything has stopped.")

    def _say(self, sentence: str) -> None:
        self.stdout.write(sentence)
        self.stdout.flush()

    def _prepare(self) -> None:
        call_command("migrate", verbosity=0)
        if not settings.LOGINS_FILE.exists():
            self._say("Filling the site with an invented circle …")
            call_command("demo")

    def _say_what_is_missing(self) -> None:
        for name, sentences in needs.missing(needs.QUICK).items():
            for sentence in sentences:
                self._say(f"{name}: {sentence}")

    def _welcome(self, host: str, port: int, only: Sequence[str]) -> None:
        if "web" not in only:
            self._say(f"\nRunning here: {', '.join(only)} (Ctrl-C stops it)\n")
            return
        self._say(f"\nMitrewise is at http://{host}:{port}/ (Ctrl-C stops it)\n")
        if settings.LOGINS_FILE.exists():
            self._say(settings.LOGINS_FILE.read_text(encoding="utf-8"))


def _made(folder: Path) -> Path:
    folder.mkdir(exist_ok=True)
    return folder


def _port(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text) <= 65_535):
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, not “{text}”")
    return int(text)


def _begin_anew(listening: socket.socket | None) -> None:
    """Become the program as it now lies on the disk; visitors wait meanwhile."""
    signal.signal(signal.SIGUSR1, signal.SIG_IGN)
    if listening:
        hand_on(listening)
    os.execv(sys.executable, [sys.executable, *sys.orig_argv[1:]])  # noqa: S606


def _answers(host: str, port: int) -> bool:
    """Whether a web server speaks HTTP there, whatever it says."""
    local = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(host, host)  # noqa: S104
    connection = http.client.HTTPConnection(local, port, timeout=1)
    try:
        connection.request("GET", "/health/")
        connection.getresponse().read()
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()
    return True
