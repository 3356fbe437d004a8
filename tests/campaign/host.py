"""The served site with everything that it needs, to be broken and mended by ``faults``."""

import http.client
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from shared.serving import processes
from tests.mail_server import MailServer
from tests.services import free_port
from tests.shared.site import descendants

from . import orphans
from .clock import Clock
from .servers import Postgres, Redis

SETTINGS = "tests.campaign.settings"


class Host:
    """``env`` leads every program to this site; the site's own clock is that of ``clock``."""

    def __init__(self, mail: MailServer, *, postgres: bool, clock: bool) -> None:
        orphans.adopt()
        self._orphans = orphans.Orphans()
        self.mail = mail
        self.data = Path(tempfile.mkdtemp(prefix="mitrewise-campaign-"))
        self.port = free_port()
        self.postgres = Postgres() if postgres else None
        self.redis = Redis() if postgres else None
        self.clock = Clock(self.data) if clock else None
        self.env = {
            "DJANGO_SETTINGS_MODULE": SETTINGS,
            "MITREWISE_DATA": str(self.data),
            "MITREWISE_SMTP_URL": f"smtp://127.0.0.1:{mail.port}",
        }
        for server, name in ((self.postgres, "DATABASE_URL"), (self.redis, "REDIS_URL")):
            if server:
                server.start()
                self.env[f"MITREWISE_{name}"] = server.url
        self._said = (self.data / "said.txt").open("ab")
        self.site: subprocess.Popen[bytes] | None = None

    def serve(self, port: int | None = None) -> "subprocess.Popen[bytes]":
        """A supervisor with the site; on ``port`` a second one."""
        kept = {name: value for name, value in os.environ.items() if "MITREWISE_" not in name}
        env = kept | self.env
        if self.clock:
            env |= self.clock.env
        return subprocess.Popen(
            [sys.executable, "manage.py", "serve", "--port", str(port or self.port)],
            cwd=processes.BASE_DIR, env=env, stdout=self._said, stderr=self._said,
            start_new_session=True, preexec_fn=processes.ending_with(os.getpid()),
        )  # fmt: skip

    def start(self) -> None:
        self.site = self.serve()

    def keep_running(self) -> bool:
        """Start the site again if its supervisor has ended, as an init would; whether it had."""
        if self.site is None or self.site.poll() is None:
            return False
        self.start()
        return True

    def is_ready(self) -> bool:
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=5)
        try:
            line.request("GET", "/health/ready/")
            return line.getresponse().status == 200
        except (OSError, http.client.HTTPException):
            return False
        finally:
            line.close()

    def parts(self, *words: str) -> list[int]:
        """The site's processes whose command has one of these words; all without words."""
        if self.site is None:
            return []
        return [pid for pid in descendants(self.site.pid) if not words or _has(pid, words)]

    def stop(self) -> None:
        if self.site is None:
            return
        left = set(self.parts())
        processes.stop([self.site], grace=60)
        orphans.kill(left)
        self.site = None

    def kill_all(self) -> None:
        assert self.site is not None
        orphans.kill({self.site.pid, *self.parts()})
        self.site.wait()

    def outlived(self) -> Iterator[str]:
        """What is wrong: parts of the site that live on long after their supervisor."""
        return self._orphans.outlived(self._own())

    def all_ended(self) -> bool:
        """Nobody lives on after their supervisor."""
        return not self._orphans.alive(self._own())

    def _own(self) -> list[int]:
        servers = [server.process.pid for server in (self.redis, self.postgres) if server]
        return [*servers, *([self.site.pid] if self.site else [])]

    def end(self, *, keep: bool) -> None:
        """Nothing that we have started lives on, whatever has happened."""
        try:
            self._end(keep)
        finally:
            orphans.end_all()

    def _end(self, keep: bool) -> None:
        self.stop()
        self._said.close()
        for server in (self.redis, self.postgres):
            if server:
                server.end()
                if not keep:
                    shutil.rmtree(server.folder, ignore_errors=True)
        if not keep:
            shutil.rmtree(self.data, ignore_errors=True)


def _has(pid: int, words: Iterable[str]) -> bool:
    with suppress(OSError):
        command = Path(f"/proc/{pid}/cmdline").read_bytes().decode(errors="replace")
        return any(word in command for word in words)
    return False
