"""Keeps a few processes running together, and ends them together."""

import os
import signal
import subprocess
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import IO

from shared.serving import processes

# A service that lives for so long after its start has started …
HEALTHY_SECONDS = 10.0
# … and one that ends sooner again is tried after a pause, which doubles each time.
FIRST_PAUSE, LONGEST_PAUSE = 1.0, 60.0
TICK_SECONDS = 0.1
LINES_HELD = 200


def _healthy() -> str | None:
    """Nothing is known against it."""
    return None


class _Held:
    """What a process says, kept back until it is worth telling."""

    def __init__(self, pipe: IO[bytes]) -> None:
        self._lines: deque[bytes] = deque(maxlen=LINES_HELD)
        self._released = False
        self._lock = threading.Lock()
        threading.Thread(target=self._read, args=[pipe], daemon=True).start()

    def release(self) -> None:
        """Tell what was kept back, and from now on everything."""
        with self._lock:
            self._released = True
            sys.stderr.buffer.writelines(self._lines)
            sys.stderr.flush()

    def _read(self, pipe: IO[bytes]) -> None:
        for line in pipe:
            with self._lock:
                if self._released:
                    sys.stderr.buffer.write(line)
                    sys.stderr.flush()
                else:
                    self._lines.append(line)


@dataclass
class Service:
    """One process that must always be running: its name for people, and its command.

    ``complaint`` answers at once what is wrong with it although it runs, as a sentence; it is
    then started anew.
    """

    name: str
    command: Sequence[str]
    # Open files that it inherits, by their numbers, and variables that only it gets.
    files: Sequence[int] = ()
    variables: Mapping[str, str] = field(default_factory=dict)
    complaint: Callable[[], str | None] = _healthy
    process: subprocess.Popen[bytes] = field(init=False)
    started_at: float = field(init=False)
    again_at: float | None = field(init=False, default=None)
    failures: int = field(init=False, default=0)
    trouble: str = field(init=False, default="")
    _held: _Held | None = field(init=False, default=None)

    def start(self) -> None:
        """What it says is shown; while it fails again and again only the first time."""
        env = {**os.environ, **self.variables}
        piped = self.failures > 0
        self.process = processes.start(self.command, env=env, files=self.files, piped=piped)
        self._held = _Held(self.process.stdout) if self.process.stdout else None
        self.started_at, self.again_at = time.monotonic(), None

    def look_after(self) -> str | None:
        """Start it again where that is due; what there is to say about it."""
        now = time.monotonic()
        if self.again_at is not None:
            if now >= self.again_at:
                self.start()
            return None
        if self.process.poll() is not None:
            return self._ended(now)
        if complaint := self.complaint():
            return self._end(complaint)
        if self.failures and now - self.started_at >= HEALTHY_SECONDS:
            return self._recovered()
        return None

    def _ended(self, now: float) -> str | None:
        processes.bury(self.process)
        self.failures += 1
        if self.failures == 1:
            self.start()
            return f"The {self.name} ended by itself and was started again."
        self.again_at = now + min(FIRST_PAUSE * 2 ** (self.failures - 2), LONGEST_PAUSE)
        if self.trouble:
            return None
        self.trouble = f"The {self.name} ends right after its start."
        return (
            f"The {self.name} ends right after its start; what it said stands above. "
            f"It is tried again, after longer and longer pauses."
        )

    def _end(self, complaint: str) -> str:
        processes.bury(self.process)
        self.failures, self.trouble = self.failures + 1, complaint
        self.start()
        return f"{complaint} It was started anew."

    def _recovered(self) -> str | None:
        if self._held:
            self._held.release()
        news = f"The {self.name} runs again." if self.trouble else None
        self.failures, self.trouble = 0, ""
        return news


class Supervisor:
    """Runs ``services`` until Ctrl-C, TERM or a hang-up, then stops every one of them.

    So it does after USR1, which asks for a renewal: the first of them, which others wait for,
    then ends last.
    """

    def __init__(self, services: Sequence[Service]) -> None:
        self._services = services
        self._told_to_stop = False
        self._told_to_renew = False

    def run(
        self,
        *,
        tick: Callable[[], None],
        say: Callable[[str], None],
        report: Callable[[str, str], None] = lambda name, trouble: None,
    ) -> bool:
        """Blocks until it is told to stop and nothing is left alive; whether for a renewal.

        Calls ``tick`` about ten times a second, ``say`` with a sentence when something happens,
        and ``report`` with the name of a service and its trouble, when that changes. That one
        service fails is no reason to end the others: it is tried again for as long as it takes.
        """
        self._listen()
        started: list[Service] = []
        reported: dict[str, str] = {}
        try:
            for service in self._services:
                service.start()
                started.append(service)
            while not (self._told_to_stop or self._told_to_renew):
                for service in self._services:
                    if news := service.look_after():
                        say(news)
                    if reported.get(service.name) != service.trouble:
                        reported[service.name] = service.trouble
                        report(service.name, service.trouble)
                tick()
                time.sleep(TICK_SECONDS)
        finally:
            say("Renewing …" if self._told_to_renew else "Stopping …")
            if self._told_to_renew:
                _stop(started[1:])
            _stop(started)
        return self._told_to_renew and not self._told_to_stop

    def _listen(self) -> None:
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            # Under nohup a hang-up is to be ignored, and stays so.
            if signal.getsignal(number) is not signal.SIG_IGN or number is not signal.SIGHUP:
                signal.signal(number, self._stop_soon)
        signal.signal(signal.SIGUSR1, self._renew_soon)

    def _stop_soon(self, *_: object) -> None:
        self._told_to_stop = True

    def _renew_soon(self, *_: object) -> None:
        self._told_to_renew = True


def _stop(services: Sequence[Service]) -> None:
    """Those that run: who pauses has ended."""
    processes.stop(service.process for service in services if service.again_at is None)
