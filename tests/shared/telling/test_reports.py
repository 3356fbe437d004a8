"""Errors told to a Sentry-compatible address hold nothing of anybody."""

import gzip
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from threading import Thread

import pytest
from django.conf import settings

PROGRAM = """
import django
django.setup()
import logging
import sentry_sdk
from django.test import Client
from accounts.pages import invitations
from accounts.models import Invitation

def broken(token):
    secret_name = "Vera Fernside"
    raise ValueError(f"the row of {secret_name} with {token}")

Invitation.objects.with_token = broken
client = Client(raise_request_exception=False)
answer = client.get("/join/the-secret-token/?q=vera@example.org", HTTP_COOKIE="a=the-cookie")
assert answer.status_code == 500
logging.getLogger("shared").error("not for %s", "vera@example.org")
sentry_sdk.flush(5)
"""
PRIVATE = ("Fernside", "the-secret-token", "vera@example.org", "the-cookie")


@pytest.fixture
def told() -> Iterator[tuple[str, list[bytes]]]:
    """The address of a service on this machine, and what it was sent."""
    sent: list[bytes] = []

    class Service(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            zipped = self.headers.get("Content-Encoding") == "gzip"
            sent.append(gzip.decompress(body) if zipped else body)
            self.send_response(200)
            self.end_headers()
            self.wfile.write(b"{}")

        def log_message(self, *_words: object) -> None:
            pass

    with HTTPServer(("127.0.0.1", 0), Service) as server:
        thread = Thread(target=server.serve_forever)
        thread.start()
        yield f"http://key@127.0.0.1:{server.server_port}/1", sent
        server.shutdown()
        thread.join()


def test_an_error_is_told_without_anything_of_anybody(
    told: tuple[str, list[bytes]], tmp_path: Path
) -> None:
    address, sent = told
    env = {name: value for name, value in os.environ.items() if not name.startswith("MITREWISE_")}
    env |= {
        "DJANGO_SETTINGS_MODULE": "shared.settings",
        "MITREWISE_DATA": str(tmp_path),
        "MITREWISE_ERRORS_URL": address,
        "MITREWISE_HOSTS": "testserver",
    }
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        env=env, cwd=settings.BASE_DIR, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    events = [json.loads(line) for body in sent for line in body.splitlines()]
    errors = [event["exception"]["values"][-1] for event in events if "exception" in event]
    assert "ValueError" in {error["type"] for error in errors}
    where = {frame["function"] for error in errors for frame in error["stacktrace"]["frames"]}
    assert "accept_invitation" in where
    assert {"message": "not for %s"} in [event.get("logentry") for event in events]
    everything = b"".join(sent).decode()
    assert [private for private in PRIVATE if private in everything] == []
