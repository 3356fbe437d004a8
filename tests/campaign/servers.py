"""A PostgreSQL and a Redis that can be stopped hard, held up, and started again where they were."""

import os
import signal
import subprocess
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import psycopg
import redis

from shared.serving import processes
from tests.services import free_port, program, unprivileged_user

PATIENCE_SECONDS = 60.0


class Server:
    """One process of a server, on the same folder and port whenever it is started."""

    process: subprocess.Popen[bytes]

    def __init__(self, name: str) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix=f"mitrewise-campaign-{name}-"))
        self.port = free_port()

    def start(self) -> None:
        self.process = self.run()
        wait_until(self.is_ready, self.process)

    def kill(self, by: signal.Signals = signal.SIGKILL) -> None:
        self.process.send_signal(by)
        self.process.wait()

    def end(self) -> None:
        with suppress(ProcessLookupError):
            self.process.send_signal(signal.SIGCONT)
        processes.stop([self.process], by=signal.SIGINT)

    def run(self) -> "subprocess.Popen[bytes]":
        raise NotImplementedError

    def is_ready(self) -> bool:
        raise NotImplementedError


class Postgres(Server):
    """A fresh cluster; ``url`` as ``MITREWISE_DATABASE_URL`` takes it."""

    def __init__(self) -> None:
        super().__init__("postgres")
        self.url = f"postgres://mitrewise@127.0.0.1:{self.port}/postgres"
        self._user = unprivileged_user()
        if self._user:
            os.chown(self.folder, self._user.pw_uid, self._user.pw_gid)
        made = [program("initdb"), "--pgdata", str(self.folder), "--username", "mitrewise"]
        made += ["--auth", "trust", "--encoding", "UTF8", "--locale", "C", "--no-sync"]
        if processes.start(made, cwd=self.folder, user=self._user, quiet=True).wait():
            raise RuntimeError("initdb failed; what it said stands above.")

    def run(self) -> "subprocess.Popen[bytes]":
        command = [program("postgres"), "-D", str(self.folder), "-p", str(self.port)]
        for setting in (
            "listen_addresses=127.0.0.1",
            "unix_socket_directories=",
            "max_connections=200",
            "fsync=off",  # the machine itself does not fail
            "log_min_messages=panic",
        ):
            command += ["-c", setting]
        return processes.start(command, cwd=self.folder, user=self._user)

    def is_ready(self) -> bool:
        with suppress(psycopg.OperationalError):
            psycopg.connect(self.url, connect_timeout=2).close()
            return True
        return False


class Redis(Server):
    """An empty Redis that keeps nothing; ``url`` as ``MITREWISE_REDIS_URL`` takes it."""

    def __init__(self) -> None:
        super().__init__("redis")
        self.url = f"redis://127.0.0.1:{self.port}/0"
        self.client = redis.Redis.from_url(self.url, socket_timeout=5)

    def run(self) -> "subprocess.Popen[bytes]":
        command = [program("redis-server"), "--port", str(self.port), "--bind", "127.0.0.1"]
        command += ["--save", "", "--dir", str(self.folder), "--logfile", "redis.log"]
        return processes.start(command, cwd=self.folder)

    def is_ready(self) -> bool:
        with suppress(redis.RedisError):
            return bool(self.client.ping())
        return False

    def end(self) -> None:
        super().end()
        self.client.close()


def wait_until(is_ready: Callable[[], bool], process: "subprocess.Popen[bytes]") -> None:
    deadline = time.monotonic() + PATIENCE_SECONDS
    while not is_ready():
        if process.poll() is not None or time.monotonic() > deadline:
            raise RuntimeError("a server of the campaign did not start")
        time.sleep(0.05)
