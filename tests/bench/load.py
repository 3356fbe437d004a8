"""A bounded load on a server of this machine: so many requests by so many clients at once."""

import selectors
import socket
from collections import Counter
from collections.abc import Iterable
from time import monotonic, perf_counter
from typing import NamedTuple

LONGEST_SECONDS = 60.0


class Load(NamedTuple):
    """How many requests a second were answered, and with which status how often."""

    rate: float
    statuses: Counter[int]


def get(path: str, headers: dict[str, str]) -> bytes:
    return _request("GET", path, headers)


def post(path: str, headers: dict[str, str]) -> bytes:
    return _request("POST", path, headers | {"Content-Length": "0"})


def run(port: int, requests: Iterable[bytes], clients: int) -> Load:
    """Send each request once to 127.0.0.1; every client keeps one connection and waits its turn.

    Sockets and nothing else, so that the client costs little beside the server. Raises
    TimeoutError after a minute.
    """
    waiting = iter(requests)
    statuses: Counter[int] = Counter()
    selector = selectors.DefaultSelector()
    deadline = monotonic() + LONGEST_SECONDS
    begun = perf_counter()
    for _ in range(clients):
        if request := next(waiting, None):
            connection = socket.create_connection(("127.0.0.1", port), timeout=10)
            connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            connection.sendall(request)
            selector.register(connection, selectors.EVENT_READ, bytearray())
    while selector.get_map():
        if monotonic() > deadline:
            raise TimeoutError("the server has not answered all requests within a minute")
        for key, _ in selector.select(timeout=1):
            waiter, received = key.fileobj, key.data
            assert isinstance(waiter, socket.socket)
            received += waiter.recv(1 << 18)
            if not _complete(received):
                continue
            statuses[int(received[9:12])] += 1
            received.clear()
            if request := next(waiting, None):
                waiter.sendall(request)
            else:
                selector.unregister(waiter)
                waiter.close()
    return Load(statuses.total() / (perf_counter() - begun), statuses)


def _request(method: str, path: str, headers: dict[str, str]) -> bytes:
    lines = [f"{method} {path} HTTP/1.1", "Host: 127.0.0.1"]
    lines += [f"{name}: {value}" for name, value in headers.items()]
    return "\r\n".join([*lines, "", ""]).encode()


def _complete(received: bytearray) -> bool:
    """Whether a whole answer is there; the server tells its length, or sends it in chunks."""
    end = received.find(b"\r\n\r\n")
    if end < 0:
        return False
    for line in bytes(received[:end]).lower().split(b"\r\n"):
        if line.startswith(b"content-length:"):
            return len(received) >= end + 4 + int(line.split(b":")[1])
    return received.endswith(b"0\r\n\r\n")
