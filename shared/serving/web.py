"""The web server: granian, on a socket that the supervisor holds.

``python -m shared.serving.web FILE`` takes the socket by the number of its open file.
"""

import os
import socket
import sys

from granian._granian import SocketHolder
from granian.constants import HTTPModes, Interfaces
from granian.http import HTTP1Settings
from granian.log import LogLevels
from granian.server.common import AbstractServer
from granian.server.mp import MPServer

from shared.serving.listening import BACKLOG

# Requests that one process accepts at the same time; more of them wait at the socket, where
# another process can take them.
AT_ONCE = 256
# Within which the head of a request must have come.
HEADER_MILLISECONDS = 10_000
# After which a connection ends whose client takes nothing of what it was sent.
UNREAD_MILLISECONDS = 20_000


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
        self._listening = listening

    def _init_shared_socket(self) -> None:
        # As granian itself does where processes cannot each open the port anew. A port opened
        # anew has a queue of its own, and whoever waits in it is cut off when the process ends.
        self._sso = self._listening
        self._sfd = self._listening.fileno()  # type: ignore[assignment]
        self._shd = SocketHolder(self._sfd, False, BACKLOG)  # type: ignore[assignment,call-arg]

    def run(self) -> None:
        # Past granian's warning that so many threads are many for few processor cores.
        AbstractServer.serve(self)


def main(file: str) -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
    from django.conf import settings

    WebServer(socket.socket(fileno=int(file)), settings.WEB_PROCESSES).run()


if __name__ == "__main__":
    main(sys.argv[1])
