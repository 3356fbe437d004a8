"""Starting processes that do not outlive us, and stopping them."""

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

BASE_DIR = Path(__file__).resolve().parent.parent
GRACE_SECONDS = 15.0

_PR_SET_PDEATHSIG = 1
_libc = ctypes.CDLL(None) if sys.platform == "linux" else None


def _end_with_parent() -> None:
    """Runs in the child: when its parent dies, even by ``kill -9``, Linux sends it TERM."""
    if _libc is not None:
        _libc.prctl(_PR_SET_PDEATHSIG, signal.SIGTERM)


def start(
    command: Sequence[str], *, env: Mapping[str, str] | None = None, user: str | None = None
) -> subprocess.Popen[bytes]:
    """The running ``command``, in the project's folder and in a session of its own.

    The session keeps Ctrl-C away from it: only we hear that, and then stop it once, in order.
    ``user`` is another user's name to run as, which only root can ask for.
    """
    return subprocess.Popen(
        command,
        cwd=BASE_DIR,
        env=env,
        user=user,
        group=user,
        extra_groups=[] if user else None,
        start_new_session=True,
        preexec_fn=_end_with_parent,
    )


def stop(
    processes: Iterable[subprocess.Popen[bytes]],
    *,
    by: signal.Signals = signal.SIGTERM,
    grace: float = GRACE_SECONDS,
) -> None:
    """Ask all to end with the signal ``by``; after ``grace`` seconds kill what is left of them."""
    asked = list(processes)
    for process in asked:
        process.send_signal(by)
    deadline = time.monotonic() + grace
    for process in asked:
        with suppress(subprocess.TimeoutExpired):
            process.wait(max(0.0, deadline - time.monotonic()))
        bury(process)


def bury(process: subprocess.Popen[bytes]) -> None:
    """Kill the whole session of ``process``: itself, and children that it may have left behind."""
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
