"""Starting processes that do not outlive us, and stopping them."""

import ctypes
import os
import pwd
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

BASE_DIR = Path(__file__).resolve().parents[2]
GRACE_SECONDS = 15.0

_PR_SET_PDEATHSIG = 1
_libc = ctypes.CDLL(None) if sys.platform == "linux" else None

_HEARD = (signal.SIGINT, signal.SIGQUIT, signal.SIGTERM, signal.SIGHUP)


def ending_with(parent: int) -> Callable[[], None]:
    """What a child of ``parent`` runs first: then it hears every signal, whatever we ignore.

    When its parent dies, even by ``kill -9``, Linux sends it TERM, and more than once if that had
    threads: each of them, as it ends, leaves the child to the next.
    """

    def begin() -> None:
        for number in _HEARD:
            signal.signal(number, signal.SIG_DFL)
        end_with(parent, by=signal.SIGTERM)

    return begin


def end_with(parent: int, *, by: signal.Signals) -> None:
    """Have Linux send us, a child of ``parent``, the signal ``by`` when that has died."""
    if _libc is not None:
        _libc.prctl(_PR_SET_PDEATHSIG, by)
        if os.getppid() != parent:  # it has died already
            os.kill(os.getpid(), by)


def start(
    command: Sequence[str],
    *,
    cwd: Path = BASE_DIR,
    env: Mapping[str, str] | None = None,
    user: pwd.struct_passwd | None = None,
    quiet: bool = False,
    files: Sequence[int] = (),
    piped: bool = False,
) -> subprocess.Popen[bytes]:
    """The running ``command``, in a session of its own.

    The session keeps Ctrl-C away from it: only we hear that, and then stop it once, in order.
    Only root can ask for another ``user`` to run as. ``quiet`` drops what it prints;
    ``piped`` gives all of it to whoever reads its ``stdout``.
    It inherits the open ``files``, by their numbers.
    """
    return subprocess.Popen(
        command,
        cwd=cwd,
        env=env,
        user=user.pw_uid if user else None,
        group=user.pw_gid if user else None,
        extra_groups=[] if user else None,
        stdout=subprocess.DEVNULL if quiet else subprocess.PIPE if piped else None,
        stderr=subprocess.STDOUT if piped else None,
        start_new_session=True,
        preexec_fn=ending_with(os.getpid()),
        pass_fds=files,
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
        process.send_signal(by)  # the dead are let be
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
