"""A proxy that sends each request to another host than the one before."""

import http.client
import itertools
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

OF_THE_CONNECTION = {"connection", "keep-alive", "transfer-encoding", "content-length"}


@contextmanager
def in_turns(ports: Sequence[int]) -> Iterator[str]:
    """In front of the hosts that listen on these ports; its address."""
    turns, one_at_a_time = itertools.cycle(ports), threading.Lock()

    class Passing(BaseHTTPRequestHandler):
        def _pass_on(self) -> None:
            with one_at_a_time:
                port = next(turns)
            body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
            host = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
            host.request(self.command, self.path, body, dict(self.headers))
            answer = host.getresponse()
            content = answer.read()
            self.send_response(answer.status)
            for name, value in answer.getheaders():
                if name.lower() not in OF_THE_CONNECTION:
                    self.send_header(name, value)
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)
            host.close()

        do_GET = do_POST = _pass_on  # noqa: N815

        def log_message(self, format: str, *args: object) -> None:
            """Nothing is told of a request."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Passing) as proxy:
        thread = threading.Thread(target=proxy.serve_forever, args=[0.05])
        thread.start()
        yield f"http://127.0.0.1:{proxy.server_port}"
        proxy.shutdown()
        thread.join()
