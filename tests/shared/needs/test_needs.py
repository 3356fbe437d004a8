"""What ``deploy_check`` finds, besides what is told at ``/health/ready/``."""

import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
from django.core.management import call_command
from pytest_django import Settings

from shared.needs import outside
from shared.serving.processes import BASE_DIR
from tests.mail_server import MailServer, running
from tests.services import free_port


@contextmanager
def answering(seen: Callable[[BaseHTTPRequestHandler], object]) -> Iterator[str]:
    """The address of a server that answers everything with what ``seen`` makes of it."""

    class Answer(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            body = json.dumps(seen(self)).encode()
            self.send_response(200)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_: object) -> None:
            pass

    with HTTPServer(("127.0.0.1", 0), Answer) as server:
        thread = threading.Thread(target=server.serve_forever, args=[0.01])
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def believes_all(request: BaseHTTPRequestHandler) -> object:
    return {
        "https": request.headers["X-Forwarded-Proto"] == "https",
        "client": request.headers["X-Forwarded-For"],
    }


def test_a_proxy_that_believes_its_clients_is_named(settings: Settings) -> None:
    with answering(believes_all) as settings.SITE_URL:
        protocol, client = outside.proxy()

    assert "must set X-Forwarded-Proto to https itself" in protocol
    assert "must set X-Forwarded-For to the address that it sees" in client


def test_a_proxy_that_overwrites_is_in_order(settings: Settings) -> None:
    with answering(lambda _: {"https": True, "client": "127.0.0.1"}) as settings.SITE_URL:
        assert list(outside.proxy()) == []


def test_an_address_out_of_reach_leaves_the_proxy_unknown(settings: Settings) -> None:
    settings.SITE_URL = f"http://127.0.0.1:{free_port()}"

    (sentence,) = outside.proxy()

    assert "could not be reached from here" in sentence


def test_a_mail_server_is_asked(settings: Settings) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", free_port()
    (sentence,) = outside.mail_server()
    assert "Correct MITREWISE_SMTP_URL." in sentence

    with running(MailServer()) as server:
        settings.EMAIL_PORT = server.port
        assert list(outside.mail_server()) == []


def test_a_data_folder_open_to_others_is_named(settings: Settings, tmp_path: Path) -> None:
    settings.DATA_DIR = tmp_path
    tmp_path.chmod(0o755)
    assert list(outside.data_folder()) == [
        f"Others on this machine can look into {tmp_path}. Run: chmod 700 {tmp_path}"
    ]

    tmp_path.chmod(0o700)
    assert list(outside.data_folder()) == []


def test_a_catalogue_that_is_not_compiled_is_named(settings: Settings, tmp_path: Path) -> None:
    assert list(outside.languages()) == []
    messages = tmp_path / "fr" / "LC_MESSAGES"
    messages.mkdir(parents=True)
    (messages / "django.po").touch()
    settings.LOCALE_PATHS = [tmp_path]

    (sentence,) = outside.languages()

    assert "The catalogue of fr is not compiled" in sentence


def test_a_storage_that_keeps_nothing_is_named(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path
    assert list(outside.storage()) == []
    assert list(tmp_path.iterdir()) == []

    in_the_way = tmp_path / "a file"
    in_the_way.touch()
    settings.MEDIA_ROOT = in_the_way
    (sentence,) = outside.storage()
    assert sentence.startswith("Files cannot be kept:")


@pytest.mark.django_db
def test_outside_production_that_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        call_command("deploy_check", before_start=True)

    assert "settings: This is not production" in capsys.readouterr().out


def test_production_with_nothing_set_names_all_at_once(tmp_path: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "manage.py", "deploy_check"],
        cwd=BASE_DIR,
        env={
            "PATH": os.environ["PATH"],
            "MITREWISE_DATA": str(tmp_path),
            "MITREWISE_PRODUCTION": "1",
        },
        capture_output=True,
        text=True,
        check=False,
    )

    assert ended.returncode == 1
    for name in ("SECRET_KEY", "HOSTS", "SMTP_URL", "EMAIL_FROM"):
        assert f"MITREWISE_{name}" in ended.stderr
