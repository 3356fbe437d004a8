"""The socket that the site listens on, which outlives the processes that answer there.

While it is open, a visitor waits in its queue and is answered late rather than turned away. So
it is handed on when the site renews itself, in systemd's manner: ``LISTEN_FDS`` and
``LISTEN_PID`` say to which process sockets were handed, the first as file 3. A unit of systemd
can hold it in the same way.
"""

import errno
import os
import socket

from django.core.management import CommandError

HANDED_ON = 3
# So many may wait to be answered.
BACKLOG = 1024


def listen(host: str, port: int) -> socket.socket:
    """The socket that was handed to this process, or a fresh one.

    Raises ``CommandError`` with a sentence when nothing can listen there.
    """
    handed_to = os.environ.pop("LISTEN_PID", "")
    if os.environ.pop("LISTEN_FDS", "0") != "0" and handed_to == str(os.getpid()):
        handed_on = socket.socket(fileno=HANDED_ON)
        handed_on.set_inheritable(False)
        return handed_on
    fresh = socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET)
    fresh.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        fresh.bind((host, port))
        fresh.listen(BACKLOG)
    except OSError as problem:
        fresh.close()
        if problem.errno == errno.EADDRINUSE:
            raise CommandError(
                f"Port {port} is taken by another program. Stop that one, "
                f"or choose another port with --port."
            ) from problem
        raise CommandError(f"Cannot listen on {host}:{port}: {problem.strerror}.") from problem
    return fresh


def hand_on(listening: socket.socket) -> None:
    """Make ``listen`` find it in the program that replaces this one (``os.exec…``)."""
    if listening.fileno() == HANDED_ON:
        listening.set_inheritable(True)
    else:
        os.dup2(listening.fileno(), HANDED_ON, inheritable=True)
    os.environ.update(LISTEN_FDS="1", LISTEN_PID=str(os.getpid()))
