"""Which ``manage.py serve`` run on this data folder, so that an upgrade finds them."""

import fcntl
import os
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from socket import gethostname

from django.conf import settings


class Running:
    """A note of this process, for as long as it lives: the lock on it dies with us."""

    def __init__(self) -> None:
        _folder().mkdir(parents=True, exist_ok=True)
        self._note = _folder() / f"{os.getpid()}@{gethostname()}"
        self._file = self._note.open("w")
        fcntl.flock(self._file, fcntl.LOCK_EX)

    def answers(self) -> None:
        """What was started has begun to work."""
        self._file.write(str(time.time()))
        self._file.flush()

    def ends(self) -> None:
        self._note.unlink(missing_ok=True)


def running() -> dict[int, str]:
    """By its number each process that runs here, with when it began to work ("" if not yet)."""
    # Of this host: another one, or another container, has numbers of its own.
    return {number: began for number, host, began in _notes() if host == gethostname()}


def running_hosts() -> set[str]:
    """The hosts, or containers that share the folder, on which one runs."""
    return {host for _number, host, _began in _notes()}


def _notes() -> Iterator[tuple[int, str, str]]:
    """Those of processes that live: their number, their host, and when they began to work."""
    for file in _folder().glob("*@*"):
        number, _, host = file.name.partition("@")
        with suppress(FileNotFoundError), file.open() as noted:  # it may be ending just now
            try:
                fcntl.flock(noted, fcntl.LOCK_SH | fcntl.LOCK_NB)
            except BlockingIOError:
                yield int(number), host, noted.read()


def _folder() -> Path:
    folder: Path = settings.DATA_DIR / "running"
    return folder
