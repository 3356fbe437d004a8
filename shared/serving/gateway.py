"""Between the web server (RSGI) and the site (WSGI): reads bodies whole before it takes a thread.

A slow sender holds nothing but a connection, and that for ``READ_SECONDS`` at most, whether
there is a proxy in front or not. A web server that speaks WSGI itself reads in the site’s threads,
of which there are few, for as long as it pleases the sender.

Bodies and answers lie in memory whole: of bodies that is at most ``DATA_UPLOAD_MAX_MEMORY_SIZE``
for each of ``shared.serving.web.AT_ONCE`` requests.
"""

import asyncio
import io
import sys
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import Any, NamedTuple

from django.conf import settings
from granian._granian import RSGIHTTPProtocol
from granian.rsgi import Scope

# Each may keep a connection to the database.
THREADS = 16
# For all of a body; half a megabyte, the most that people send, over a poor line.
READ_SECONDS = 10.0

Environment = dict[str, Any]
Headers = list[tuple[str, str]]


class Answer(NamedTuple):
    """As granian takes it."""

    status: int
    headers: Headers
    body: bytes


class Unread(Exception):
    """A body that is not to be had; ``status`` says why."""

    def __init__(self, status: int) -> None:
        self.status = status


class Gateway:
    """One application, called in threads of its own."""

    def __init__(self, application: Callable[..., Iterable[bytes]]) -> None:
        self._application = application
        self._threads = ThreadPoolExecutor(THREADS, thread_name_prefix="request")

    async def __rsgi__(self, scope: Scope, protocol: RSGIHTTPProtocol) -> None:
        """Answer one request."""
        headers = _headers(scope)
        try:
            body = await _body(headers, protocol)
        except Unread as unread:
            protocol.response_empty(unread.status, [("connection", "close")])
            return
        environment = _environment(scope, headers, body)
        loop = asyncio.get_running_loop()
        answer = await loop.run_in_executor(self._threads, self._call, environment)
        protocol.response_bytes(*answer)

    def _call(self, environment: Environment) -> Answer:
        """What the site says, whole, so that no thread ever waits for a reader.

        What breaks off raises: half of a file would look like all of it.
        """
        begun: list[tuple[int, Headers]] = []

        def start_response(status: str, headers: Headers, _error: object = None) -> None:
            begun.append((int(status[:3]), headers))

        parts: Any = self._application(environment, start_response)
        try:
            whole = b"".join(parts)
        finally:
            parts.close()
        return Answer(*begun[-1], whole)


def _headers(scope: Scope) -> dict[str, str]:
    """By lower-case names; what comes several times is joined (RFC 9110, 5.3).

    Names with an underscore are left out: as variables they would look like those with a hyphen,
    which a proxy overwrites.
    """
    found: dict[str, str] = {}
    for name, value in scope.headers.items():
        if "_" not in name:
            between = "; " if name == "cookie" else ","
            found[name] = f"{found[name]}{between}{value}" if name in found else value
    return found


async def _body(headers: dict[str, str], protocol: RSGIHTTPProtocol) -> bytes:
    """All of it; nothing of one that announces to be too large, which the site then refuses.

    One that does not announce its length is refused here: granian does not tell where such a body
    breaks off. Browsers always announce it, and so does a proxy that has read it.
    """
    if "transfer-encoding" in headers:
        raise Unread(411)
    announced = int(headers.get("content-length", "0"))
    if not 0 < announced <= settings.DATA_UPLOAD_MAX_MEMORY_SIZE:
        return b""
    read = bytearray()
    try:
        async with asyncio.timeout(READ_SECONDS):
            async for part in protocol:
                read += part
    except TimeoutError:
        raise Unread(408) from None
    if len(read) < announced:
        raise Unread(400)  # it breaks off
    return bytes(read)


def _environment(scope: Scope, headers: dict[str, str], body: bytes) -> Environment:
    """As PEP 3333 has it: text is bytes, each as one character."""
    server, _colon, port = scope.server.rpartition(":")
    environment = {
        "REQUEST_METHOD": scope.method,
        "SCRIPT_NAME": "",
        "PATH_INFO": scope.path.encode().decode("latin-1"),
        "QUERY_STRING": scope.query_string,
        "SERVER_NAME": server,
        "SERVER_PORT": port,
        "SERVER_PROTOCOL": f"HTTP/{scope.http_version}",
        "REMOTE_ADDR": scope.client.rpartition(":")[0],
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope.scheme,
        "wsgi.input": io.BytesIO(body),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
    }
    for name, value in headers.items():
        variable = name.upper().replace("-", "_")
        own = variable in ("CONTENT_TYPE", "CONTENT_LENGTH")
        environment[variable if own else f"HTTP_{variable}"] = value
    return environment
