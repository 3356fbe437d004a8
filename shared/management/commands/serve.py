"""``manage.py serve``: the whole site under one roof."""

import argparse
import errno
import http.client
import os
import socket
import sys

from django.conf import settings
from django.core.management import BaseCommand, CommandError, CommandParser, call_command
from django.db import connections

from shared.supervisor import GaveUp, Service, Supervisor


class Command(BaseCommand):
    help = "Serve the site: web server, worker and scheduler, until Ctrl-C stops them together."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="the address to listen on")
        parser.add_argument("--port", type=_port, default=8000, help="the port to listen on")
        parser.add_argument(
            "--demo",
            action="store_true",
            help="first migrate the database and, once, fill it with the demo",
        )

    def handle(self, *, host: str, port: int, demo: bool, **options: object) -> None:
        _refuse_taken(host, port)
        if demo:
            self._prepare()
        connections.close_all()
        if not settings.PRODUCTION:
            # The worker's e-mails lead to where we are.
            os.environ.setdefault("MITREWISE_SITE_URL", f"http://{host}:{port}")
        answered = False

        def announce() -> None:
            nonlocal answered
            if not answered and _answers(host, port):
                answered = True
                self._welcome(host, port)

        try:
            Supervisor(services(host, port)).run(tick=announce, say=self._say)
        except GaveUp as problem:
            raise CommandError(f"{problem} What it said stands above.") from problem
        self._say("Everything has stopped.")

    def _say(self, sentence: str) -> None:
        self.stdout.write(sentence)
        self.stdout.flush()

    def _prepare(self) -> None:
        call_command("migrate", verbosity=0)
        if not settings.LOGINS_FILE.exists():
            self._say("Filling the site with an invented circle …")
            call_command("demo")

    def _welcome(self, host: str, port: int) -> None:
        self._say(f"\nMitrewise is at http://{host}:{port}/ (Ctrl-C stops it)\n")
        if settings.LOGINS_FILE.exists():
            self._say(settings.LOGINS_FILE.read_text(encoding="utf-8"))


def services(host: str, port: int) -> list[Service]:
    """The processes that make up the site."""
    python = [sys.executable, "-m"]
    # Django's checks have just run here.
    celery = [*python, "celery", "--quiet", "--skip-checks", "--app", "shared"]
    return [
        Service(
            "web server",
            [
                *python,
                *("granian", "--interface", "wsgi", "--host", host, "--port", str(port)),
                *("--workers", str(settings.WEB_PROCESSES), "--blocking-threads", "4"),
                *("--respawn-failed-workers", "--workers-kill-timeout", "10"),
                *("--log-level", "warning", "shared.wsgi:application"),
            ],
        ),
        _worker(celery, settings.CELERY_TASK_DEFAULT_QUEUE, settings.WORKER_PROCESSES),
        # So that a long batch keeps nobody waiting who asked for one sheet.
        _worker(celery, settings.BATCHES, 1),
        Service("scheduler", [*celery, "beat", "--loglevel", "WARNING"]),
    ]


def _worker(celery: list[str], queue: str, processes: int) -> Service:
    return Service(
        f"worker of the queue “{queue}”",
        [
            *celery,
            *("worker", "--queues", queue, "--hostname", f"{queue}@%h"),
            *("--concurrency", str(processes)),
            *("--without-gossip", "--without-mingle", "--loglevel", "WARNING"),
        ],
    )


def _port(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text) <= 65_535):
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, not “{text}”")
    return int(text)


def _refuse_taken(host: str, port: int) -> None:
    """Raises ``CommandError`` when nothing could listen there."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as problem:
            if problem.errno == errno.EADDRINUSE:
                raise CommandError(
                    f"Port {port} is taken by another program. Stop that one, "
                    f"or choose another port with --port."
                ) from problem
            raise CommandError(f"Cannot listen on {host}:{port}: {problem.strerror}.") from problem


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
