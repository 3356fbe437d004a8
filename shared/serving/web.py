"""The web server: granian, on a socket that the supervisor holds.

``python -m shared.serving.web FILE`` takes the socket by the number of its open file.
"""

import os
import signal
import socket
import sys
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from granian._granian import SocketHolder
from granian._internal import load_target
from granian.constants import HTTPModes, Interfaces
from granian.http import HTTP1Settings
from granian.log import LogLevels
from granian.server.common import AbstractServer
from granian.server.mp import MPServer

from shared.serving import processes
from shared.serving.listening import BACKLOG

# Requests that one process accepts at the same time; more of them wait at the socket, where
# another process can take them.
AT_ONCE = 256
# Within which the head of a request must have come.
HEADER_MILLISECONDS = 10_000
# After which a connection ends whose client takes nothing of what it was sent.
UNREAD_MILLISECONDS = 20_000
# For which a connection waits in the kernel for what its client says first.
UNSAID_SECONDS = 1
LOOK_SECONDS = 0.1


class Told:
    """Granian's event without its lock: one signal may interrupt the handler of another.

    That waited for ever for the lock of the handler that it had interrupted, and the port was
    taken for as long. Whoever waits is told for good once the server is to ``end``.
    """

    def __init__(self, end: Callable[[], bool]) -> None:
        self._end, self._told = end, False

    def set(self) -> None:
        self._told = True

    def clear(self) -> None:
        self._told = False

    def wait(self) -> None:
        while not (self._told or self._end()):
            time.sleep(LOOK_SECONDS)


class WebServer(MPServer):
    """Opens no socket: all its processes accept from ``listening``."""

    def __init__(self, listening: socket.socket, processes: int) -> None:
        super().__init__(
            "shared.wsgi:site",
            interface=Interfaces.RSGI,
            # Where granian looks for HTTP/2 first, it waits for as long as nothing comes at all.
            http=HTTPModes.http1,
            websockets=False,
            workers=processes,
            backpressure=AT_ONCE,
            respawn_failed_workers=True,
            workers_kill_timeout=10,
            http1_settings=HTTP1Settings(header_read_timeout=HEADER_MILLISECONDS),
            log_level=LogLevels.warning,
        )
        if sys.platform == "linux":  # what is accepted here inherits it
            listening.setsockopt(socket.IPPROTO_TCP, socket.TCP_USER_TIMEOUT, UNREAD_MILLISECONDS)
            # A process that is told to end closes what it has accepted and not heard anything from.
            listening.setsockopt(socket.IPPROTO_TCP, socket.TCP_DEFER_ACCEPT, UNSAID_SECONDS)
        self._listening = listening
        self.main_loop_interrupt = Told(lambda: self.interrupt_signal)  # type: ignore[assignment]

    def _init_shared_socket(self) -> None:
        # As granian itself does where processes cannot each open the port anew. A port opened
        # anew has a queue of its own, and whoever waits in it is cut off when the process ends.
        self._sso = self._listening
        self._sfd = self._listening.fileno()  # type: ignore[assignment]
        self._shd = SocketHolder(self._sfd, False, BACKLOG)  # type: ignore[assignment,call-arg]

    def run(self) -> None:
        # Past granian's warning that so many threads are many for few processor cores.
        AbstractServer.serve(self, target_loader=partial(_load, os.getpid()))


def _load(server: int, site: str) -> Any:
    """Runs first in each of the processes that answer: they end with the one that started them.

    That stops them itself if it can; so they need no time when it could not.
    """
    processes.end_with(server, by=signal.SIGKILL)
    return load_target(site)


def main(file: str) -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
    from django.conf import settings

    WebServer(socket.socket(fileno=int(file)), settings.WEB_PROCESSES).run()


if __name__ == "__main__":
    main(sys.argv[1])
