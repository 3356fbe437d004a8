"""What takes a while to look at, or asks others: before the site is started for people."""

import json
import stat
import urllib.request
from collections.abc import Iterator
from http.client import HTTPException
from pathlib import Path
from smtplib import SMTPException
from urllib.error import HTTPError

from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.mail import get_connection

# An address for examples, which nobody has; a proxy must not believe that it is ours.
MADE_UP = "203.0.113.9"
PATIENCE_SECONDS = 10


def settings_of_production() -> Iterator[str]:
    """Production does not start without some; the settings themselves say which."""
    if not settings.PRODUCTION:
        yield "This is not production, so no protection is on. Set MITREWISE_PRODUCTION=1."


def data_folder() -> Iterator[str]:
    folder: Path = settings.DATA_DIR
    if stat.S_IMODE(folder.stat().st_mode) & 0o077:
        yield f"Others on this machine can look into {folder}. Run: chmod 700 {folder}"


def languages() -> Iterator[str]:
    for catalogue in sorted(Path(settings.LOCALE_PATHS[0]).glob("*/LC_MESSAGES/*.po")):
        if not catalogue.with_suffix(".mo").exists():
            yield (
                f"The catalogue of {catalogue.parent.parent.name} is not compiled. Run: "
                "./dev messages"
            )


def storage() -> Iterator[str]:
    """A file is written, read and deleted, wherever files are kept."""
    try:
        name = default_storage.save("deploy-check.txt", ContentFile(b"written"))
        with default_storage.open(name) as file:
            same = file.read() == b"written"
        default_storage.delete(name)
    except Exception as problem:  # each storage has errors of its own
        yield f"Files cannot be kept: {_said(problem)}"
        return
    if not same:
        yield "A file that was written came back changed. Look at where files are kept."


def mail_server() -> Iterator[str]:
    connection = get_connection()
    try:
        connection.open()
        connection.close()
    except (OSError, SMTPException) as problem:
        yield (
            f"The mail server {settings.EMAIL_HOST}:{settings.EMAIL_PORT} does not let us in: "
            f"{_said(problem)} Correct MITREWISE_SMTP_URL."
        )


def proxy() -> Iterator[str]:
    """Sends the site's own address a lie about the client, and asks what arrived."""
    address = f"{settings.SITE_URL}/health/seen/"
    lies = {"X-Forwarded-For": MADE_UP, "X-Forwarded-Proto": "http"}
    try:
        question = urllib.request.Request(address, headers=lies)  # noqa: S310 # a URL of settings
        with urllib.request.urlopen(question, timeout=PATIENCE_SECONDS) as answer:  # noqa: S310
            seen = json.load(answer)
    except HTTPError as problem:
        yield (
            f"{address} answers {problem.code}. Is the site running, and does the proxy pass "
            "requests on to it, with their Host header?"
        )
    except (OSError, HTTPException, ValueError) as problem:
        yield (
            f"{address} could not be reached from here: {_said(problem)} So nobody knows "
            "whether the proxy in front is set up rightly. Start both, and run this again."
        )
    else:
        if not seen["https"]:
            yield "The proxy must set X-Forwarded-Proto to https itself, whatever the client says."
        if seen["client"] == MADE_UP:
            yield (
                "The proxy must set X-Forwarded-For to the address that it sees. Now it passes "
                "on what the client says of itself."
            )


def _said(problem: Exception) -> str:
    """An error as a sentence."""
    said = str(problem).strip().rstrip(".") or type(problem).__name__
    return f"{said}."
