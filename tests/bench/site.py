"""The site as it is served, on a free port and fresh rows, for as long as a figure needs it."""

import json
import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from shared.serving import processes
from tests.services import free_port


class Site(NamedTuple):
    """Where it listens, and what ``tests.bench.seed`` put into it."""

    port: int
    seed: dict[str, Any]


@contextmanager
def site(seed: str, database_url: str = "") -> Iterator[Site]:
    """Serve rows made by the function ``seed`` of ``tests.bench.seed``; SQLite without a URL."""
    with tempfile.TemporaryDirectory(prefix="mitrewise-bench-") as data:
        env = {name: value for name, value in os.environ.items() if "MITREWISE_" not in name}
        env |= {"DJANGO_SETTINGS_MODULE": "tests.bench.settings", "MITREWISE_DATA": data}
        if database_url:
            env["MITREWISE_DATABASE_URL"] = database_url
        made = subprocess.run(
            [sys.executable, "-m", "tests.bench.seed", seed],
            env=env, cwd=processes.BASE_DIR, check=True, stdout=subprocess.PIPE,
        )  # fmt: skip
        port = free_port()
        server = processes.start(
            [
                *(sys.executable, "-m", "granian", "--interface", "wsgi", "--port", str(port)),
                *("--workers", "2" if database_url else "1", "--blocking-threads", "4"),
                *("--log-level", "error", "shared.wsgi:application"),
            ],
            env=env,
        )
        try:
            _wait_for(port)
            yield Site(port, json.loads(made.stdout))
        finally:
            processes.stop([server])


def _wait_for(port: int) -> None:
    for _ in range(200):
        try:
            socket.create_connection(("127.0.0.1", port)).close()
        except ConnectionRefusedError:
            time.sleep(0.05)
        else:
            return
    raise TimeoutError("the site has not answered within ten seconds")
