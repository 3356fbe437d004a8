"""What comes of mails whose worker is killed. ``python -m tests.letters.killed --help``"""

import argparse
import re
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from shared.serving import processes
from tests import mail_server, services
from tests.mail_server import MailServer
from tests.shared.site import environment, eventually


def delivered(
    env: dict[str, str], *, mails: int, kills: int, seconds: float
) -> Counter[tuple[str, str]]:
    """How often each mail came, by its address and Message-ID, until all count as sent.

    The site of ``env`` is new. Its mail server thinks for ``seconds`` about each mail; its worker
    is killed ``kills`` times, mostly while it does, and the last one is let be.
    """
    with mail_server.running(MailServer(seconds=seconds)) as server:
        env |= {"MITREWISE_SMTP_URL": f"smtp://127.0.0.1:{server.port}"}

        def run(order: str) -> int:
            """How many are not sent then."""
            command = [sys.executable, "-m", "tests.letters.site", order]
            done = subprocess.run(
                command, cwd=processes.BASE_DIR, env=env, check=True, stdout=subprocess.PIPE
            )
            return int(done.stdout)

        run(str(mails))
        for kill in range(1, kills + 1):
            enough = kill * mails // (kills + 1)
            with _worker(env):
                eventually(lambda enough=enough: len(server.got) >= enough, within=120)  # type: ignore[misc]
        with _worker(env):
            # What a killed worker had in hand is free again after its lease.
            eventually(lambda: run("sweep") == 0, within=60 + 2 * mails * seconds)
        return Counter((_field("To", told), _field("Message-ID", told)) for told in server.got)


@contextmanager
def _worker(env: dict[str, str]) -> Iterator[None]:
    """Killed at the end of the block."""
    command = [sys.executable, "-m", "celery", "--quiet", "--app", "shared", "worker"]
    command += ["--queues", "letters", "--pool", "solo"]
    command += ["--without-gossip", "--without-mingle", "--loglevel", "WARNING"]
    process = processes.start(command, env=env)
    try:
        yield
    finally:
        processes.bury(process)


def _field(name: str, told: str) -> str:
    (value,) = re.findall(rf"^{name}: (\S+)", told, re.M)
    return str(value)


def main() -> int:
    parser = argparse.ArgumentParser("python -m tests.letters.killed")
    parser.add_argument("--mails", type=int, default=90, help="how many (90)")
    parser.add_argument("--kills", type=int, default=8, help="of the worker (8)")
    parser.add_argument("--seconds", type=float, default=0.5, help="for each mail (0.5)")
    parser.add_argument("--postgres", action="store_true", help="on PostgreSQL and Redis")
    told = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        env = environment(Path(folder))
        asked = {"mails": told.mails, "kills": told.kills, "seconds": told.seconds}
        if told.postgres:
            with services.postgresql() as database, services.redis_server() as redis:
                env |= {"MITREWISE_DATABASE_URL": database, "MITREWISE_REDIS_URL": redis}
                got = delivered(env, **asked)
        else:
            got = delivered(env, **asked)
    times = Counter(got.values())
    print(f"{told.mails} mails, {told.kills} kills: {times[1]} came once, {times[2]} twice under")
    print(f"the same Message-ID, {times.total() - times[1] - times[2]} more often;", end=" ")
    lost = told.mails - len({to for to, _ in got})
    print(f"{lost} are lost, {len(got) - told.mails + lost} came under two Message-IDs.")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
