"""Who outlives whoever started them: on Linux they become children of the campaign itself."""

import ctypes
import os
import signal
import sys
import time
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path

from tests.shared.site import descendants, everybody

# Within which a part of the site ends when its supervisor was killed.
OUTLIVED_SECONDS = 30.0
_PR_SET_CHILD_SUBREAPER = 36


def adopt() -> None:
    """From now on we are the parent of every orphan among what we have started."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_PR_SET_CHILD_SUBREAPER, 1)


class Orphans:
    """Those that were found, each since when."""

    def __init__(self) -> None:
        self._since: dict[int, float] = {}

    def alive(self, own: Collection[int]) -> dict[int, float]:
        """For how many seconds each is known; ``own`` are children that we started ourselves."""
        now = time.monotonic()
        children = {pid for pid, parent in everybody().items() if parent == os.getpid()}
        here = {pid for pid in children - set(own) if _command(pid)}
        self._since = {pid: self._since.get(pid, now) for pid in here}
        return {pid: now - since for pid, since in self._since.items()}

    def outlived(self, own: Collection[int]) -> Iterator[str]:
        """A sentence for each that lives on for too long, which it then does no more."""
        for pid, seconds in self.alive(own).items():
            if seconds > OUTLIVED_SECONDS:
                yield f"outlived its supervisor by {seconds:.0f} s: {_command(pid)}"
                kill({pid, *descendants(pid)})


def end_all() -> None:
    """Whatever we have started ends now."""
    kill(descendants(os.getpid()))


def kill(pids: Collection[int]) -> None:
    for pid in pids:
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)


def _command(pid: int) -> str:
    with suppress(OSError):
        words = Path(f"/proc/{pid}/cmdline").read_bytes().split(b"\0")
        return b" ".join(words).decode(errors="replace").strip()
    return ""
