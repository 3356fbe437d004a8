"""The site as it is served, on a free port and fresh rows, for as long as a figure needs it."""

import json
import os
import subprocess
import sys
import tempfile
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from shared.serving import processes
from shared.serving.listening import listen


class Site(NamedTuple):
    """Where it listens, and what ``tests.bench.seed`` put into it."""

    port: int
    seed: dict[str, Any]


@contextmanager
def site(seed: str, database_url: str = "") -> Iterator[Site]:
    """Serve rows made by the function ``seed`` of ``tests.bench.seed``, by the web server of hosts.

    Without a URL on SQLite, in one process; else with a Redis beside it, in two.
    """
    with tempfile.TemporaryDirectory(prefix="mitrewise-bench-") as data:
        env = {name: value for name, value in os.environ.items() if "MITREWISE_" not in name}
        env |= {"DJANGO_SETTINGS_MODULE": "tests.bench.settings", "MITREWISE_DATA": data}
        if database_url:
            env["MITREWISE_DATABASE_URL"] = database_url
            env["MITREWISE_REDIS_URL"] = os.environ["MITREWISE_BENCH_REDIS"]
        made = subprocess.run(
            [sys.executable, "-m", "tests.bench.seed", seed],
            env=env, cwd=processes.BASE_DIR, check=True, stdout=subprocess.PIPE,
        )  # fmt: skip
        with listen("127.0.0.1", 0) as listening:
            file, port = listening.fileno(), listening.getsockname()[1]
            command = [sys.executable, "-m", "shared.serving.web", str(file)]
            server = processes.start(command, env=env, files=[file])
        try:
            # It waits in the socket's queue until somebody is there to answer.
            urllib.request.urlopen(f"http://127.0.0.1:{port}/health/", timeout=60).close()
            yield Site(port, json.loads(made.stdout))
        finally:
            processes.stop([server])
