"""Which ``manage.py serve`` run on this data folder, so that an upgrade finds them."""

import fcntl
import os
import time
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
    found = {}
    # Of this host: another one, or another container, has numbers of its own.
    for file in _folder().glob(f"*@{gethostname()}"):
        with file.open() as noted:
            try:
                fcntl.flock(noted, fcntl.LOCK_SH | fcntl.LOCK_NB)
            except BlockingIOError:
                found[int(file.name.partition("@")[0])] = noted.read()
    return found


def _folder() -> Path:
    folder: Path = settings.DATA_DIR / "running"
    return folder
