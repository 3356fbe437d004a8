"""What befalls the site, by name. Each begins, lasts for a while, and is mended again."""

import os
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from datetime import UTC, datetime, timedelta
from random import Random
from resource import RLIM_INFINITY, RLIMIT_FSIZE, prlimit

import redis

from shared.serving import processes
from tests.mail_server import HANG_UP, SILENCE
from tests.services import free_port
from tests.shared.site import eventually

from . import clock
from .host import Host

Fault = Callable[[Host, Random], AbstractContextManager[None]]
# When British clocks go forward.
SUMMER_TIME = datetime(2027, 3, 28, 1, tzinfo=UTC)


def kill(*words: str) -> Fault:
    """One process of those with these words in their command ends at once."""

    @contextmanager
    def fault(host: Host, random: Random) -> Iterator[None]:
        # A fault that finds nobody would be none; one that was just ended soon comes again.
        eventually(lambda: bool(host.parts(*words)), within=90)
        if found := sorted(host.parts(*words)):
            with suppress(ProcessLookupError):
                os.kill(found[int(random.random() * len(found))], signal.SIGKILL)
        yield

    return fault


@contextmanager
def supervisor_killed(host: Host, random: Random) -> Iterator[None]:
    assert host.site is not None
    host.site.kill()
    host.site.wait()
    yield


@contextmanager
def all_killed(host: Host, random: Random) -> Iterator[None]:
    host.kill_all()
    yield


@contextmanager
def postgres_killed(host: Host, random: Random) -> Iterator[None]:
    """Stopped hard by its signal for that, or by the one that nobody can answer; then started."""
    assert host.postgres is not None
    host.postgres.kill(random.choice((signal.SIGQUIT, signal.SIGKILL)))
    yield
    deadline = time.monotonic() + 30
    while True:
        try:
            host.postgres.start()
        except RuntimeError:  # its children of before are not gone yet
            if time.monotonic() > deadline:
                raise
            time.sleep(0.5)
        else:
            return


@contextmanager
def redis_gone(host: Host, random: Random) -> Iterator[None]:
    """And empty when it comes again."""
    assert host.redis is not None
    host.redis.kill()
    yield
    host.redis.start()


@contextmanager
def redis_hanging(host: Host, random: Random) -> Iterator[None]:
    assert host.redis is not None
    host.redis.process.send_signal(signal.SIGSTOP)
    yield
    host.redis.process.send_signal(signal.SIGCONT)


@contextmanager
def redis_full(host: Host, random: Random) -> Iterator[None]:
    assert host.redis is not None
    with suppress(redis.RedisError):
        host.redis.client.config_set("maxmemory", "1mb")
    yield
    with suppress(redis.RedisError):
        host.redis.client.config_set("maxmemory", "0")


def mail(**answers: str) -> Fault:
    @contextmanager
    def fault(host: Host, random: Random) -> Iterator[None]:
        host.mail.answers.update(answers)
        yield
        host.mail.answers.clear()

    return fault


@contextmanager
def disk_full(host: Host, random: Random) -> Iterator[None]:
    """No file of the site's processes grows beyond what a small quota leaves them."""
    _limit(host, random.choice((4096, 100_000)))
    yield
    _limit(host, RLIM_INFINITY)


def _limit(host: Host, size: int) -> None:
    pids = host.parts()
    for pid in [*pids, *([host.site.pid] if host.site else [])]:
        with suppress(ProcessLookupError):
            prlimit(pid, RLIMIT_FSIZE, (size, RLIM_INFINITY))


@contextmanager
def clock_put_forward(host: Host, random: Random) -> Iterator[None]:
    """To shortly before the change to summer time, over it, and back to where it was."""
    assert host.clock is not None
    shift = SUMMER_TIME - datetime.now(UTC) - timedelta(seconds=3)
    host.clock.put(int(shift.total_seconds()))
    yield
    host.clock.put(0)


@contextmanager
def two_supervisors(host: Host, random: Random) -> Iterator[None]:
    second = host.serve(free_port())
    try:
        yield
        time.sleep(6)
    finally:
        processes.stop([second])


@contextmanager
def broken_message(host: Host, random: Random) -> Iterator[None]:
    """Half of one, and one of no sense, in both queues."""
    messages = ('{"body": "W1tdLCB7', '{"body": 7}', "no JSON")
    for queue in ("soon", "batches"):
        text = random.choice(messages)
        if host.redis is not None:
            with suppress(redis.RedisError):
                host.redis.client.lpush(queue, text)
        else:
            name = f"{random.randrange(10**12)}_broken.{queue}.msg"
            (host.data / "queue" / "waiting" / name).write_text(text)
    yield


ANYWHERE: dict[str, Fault] = {
    "web-killed": kill("granian"),  # as it calls its processes
    "worker-killed": kill("worker"),
    "scheduler-killed": kill("beat"),
    "one-killed": kill(),
    "supervisor-killed": supervisor_killed,
    "all-killed": all_killed,
    "mail-hangs-up": mail(hello=HANG_UP),
    "mail-silent": mail(hello=SILENCE),
    "mail-refuses-for-now": mail(RCPT="451 later"),
    "disk-full": disk_full,
    "two-supervisors": two_supervisors,
    "broken-message": broken_message,
}
WITH_POSTGRES: dict[str, Fault] = {
    "postgres-killed": postgres_killed,
    "redis-gone": redis_gone,
    "redis-hanging": redis_hanging,
    "redis-full": redis_full,
}
WITH_CLOCK: dict[str, Fault] = {"clock-put-forward": clock_put_forward}


def to_be_had(*, postgres: bool) -> dict[str, Fault]:
    """All that this machine can do to such a site."""
    there = WITH_CLOCK if clock.can_be_had() else {}
    return ANYWHERE | (WITH_POSTGRES if postgres else {}) | there
