"""Keeps a few processes running together, and ends them together."""

import signal
import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from shared import processes

# A service that ends sooner than this after its start has failed rather than crashed …
HEALTHY_SECONDS = 10.0
# … and after so many failures in a row another try will not help.
MOST_FAILURES = 3
TICK_SECONDS = 0.1


class GaveUp(Exception):
    """A service ended again and again; the message says which."""


@dataclass
class Service:
    """One process that must always be running: its name for people, and its command."""

    name: str
    command: Sequence[str]
    # Open files that it inherits, by their numbers.
    files: Sequence[int] = ()
    process: subprocess.Popen[bytes] = field(init=False)
    started_at: float = field(init=False)
    failures: int = field(init=False, default=0)

    def start(self) -> None:
        self.process = processes.start(self.command, files=self.files)
        self.started_at = time.monotonic()

    def restart_if_dead(self) -> bool:
        """Whether it had to be started again. Raises ``GaveUp`` when that would be in vain."""
        if self.process.poll() is None:
            return False
        lived = time.monotonic() - self.started_at
        self.failures = 0 if lived >= HEALTHY_SECONDS else self.failures + 1
        if self.failures >= MOST_FAILURES:
            raise GaveUp(f"The {self.name} ended {self.failures} times right after its start.")
        processes.bury(self.process)
        self.start()
        return True


class Supervisor:
    """Runs ``services`` until Ctrl-C, TERM or a hang-up, then stops every one of them.

    So it does after USR1, which asks for a renewal: the first of them, which others wait for,
    then ends last.
    """

    def __init__(self, services: Sequence[Service]) -> None:
        self._services = services
        self._told_to_stop = False
        self._told_to_renew = False

    def run(self, *, tick: Callable[[], None], say: Callable[[str], None]) -> bool:
        """Blocks until it is told to stop and nothing is left alive; whether for a renewal.

        Calls ``tick`` about ten times a second, and ``say`` with a sentence when something
        happens. Raises ``GaveUp`` (again with nothing left alive) when a service keeps failing.
        """
        self._listen()
        started: list[Service] = []
        try:
            for service in self._services:
                service.start()
                started.append(service)
            while not (self._told_to_stop or self._told_to_renew):
                for service in self._services:
                    if service.restart_if_dead():
                        say(f"The {service.name} ended by itself and was started again.")
                tick()
                time.sleep(TICK_SECONDS)
        finally:
            say("Renewing …" if self._told_to_renew else "Stopping …")
            if self._told_to_renew:
                processes.stop(service.process for service in started[1:])
            processes.stop(service.process for service in started)
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
