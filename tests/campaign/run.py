"""One campaign: a seed, clients and faults at the same time, and what was wrong in the end."""

import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from random import Random

from django.db import OperationalError, close_old_connections

from accounts.models import Mail
from drives.audit import audit
from drives.models import Blanket, Sheet, Status

from .acts import ACTS
from .book import Book, compared
from .client import Turn
from .faults import Fault
from .host import Host
from .life import followed
from .orphans import OUTLIVED_SECONDS
from .watch import Watch
from .world import World

MENDED_WITHIN_SECONDS = 90.0
DONE_WITHIN_SECONDS = 120.0


@dataclass
class Outcome:
    """``wrong`` is empty when nothing was lost, doubled or begun wrongly."""

    seconds: float = 0.0
    acts: int = 0
    answers: Counter[str] = field(default_factory=Counter)
    facts: int = 0
    looks: int = 0
    audits: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    longest: dict[str, float] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)


def campaign(
    host: Host, world: World, *, seed: int, seconds: float, clients: int, faults: dict[str, Fault],
    gap: float,
) -> Outcome:  # fmt: skip
    """Blocks for about ``seconds``, with ``gap`` seconds of peace after each fault."""
    outcome, book, over = Outcome(), Book(), threading.Event()
    watch = Watch(world.quilts)
    people = [
        threading.Thread(target=_live, args=[_turn(world, book, host, over, seed, number)])
        for number in range(clients)
    ]
    begun = time.monotonic()
    for thread in (watch, *people):
        thread.start()
    try:
        _trouble(host, Random(f"{seed} faults"), faults, begun + seconds, gap, outcome)
    finally:
        over.set()
        for thread in people:
            thread.join()
        outcome.seconds = time.monotonic() - begun
        watch.end()
    outcome.wrong += _settle(host)
    host.stop()
    outcome.wrong += _left_over(host)
    outcome.wrong += watch.wrong
    outcome.wrong += _lost_mails(host)
    outcome.wrong += _looked_over(book, world, aged=host.clock is not None)
    outcome.answers, outcome.acts = book.answers, book.answers.total()
    outcome.facts = book.sure.total() + book.done.total()
    outcome.looks, outcome.audits = watch.looks, watch.audits
    return outcome


def _turn(
    world: World, book: Book, host: Host, over: threading.Event, seed: int, number: int
) -> Turn:
    name = f"{seed}-{number}"
    return Turn(world, book, Random(name), host.port, over, name)


def _live(turn: Turn) -> None:
    acts, often = list(ACTS), list(ACTS.values())
    while not turn.over.is_set():
        [act] = turn.random.choices(acts, often)
        act(turn)


def _trouble(
    host: Host, random: Random, faults: dict[str, Fault], until: float, gap: float, outcome: Outcome
) -> None:
    """One fault after the other, each mended before the next one begins."""
    names = sorted(faults)
    order: list[str] = []
    while True:
        _wait(host, min(gap, until - time.monotonic()))
        if time.monotonic() >= until:
            return
        if not names:
            continue
        if not order:  # each of them once, before any comes again
            order = random.sample(names, len(names))
        name = order.pop()
        begun = time.monotonic()
        with faults[name](host, random):
            _wait(host, random.uniform(0.5, 4))
        ready = mended(host)
        outcome.faults[name] += 1
        lasted = time.monotonic() - begun
        outcome.longest[name] = max(lasted, outcome.longest.get(name, 0))
        if not ready:
            outcome.wrong.append(f"not ready {MENDED_WITHIN_SECONDS:.0f} s after {name}")
            if host.site is not None:  # so that the rest can go on
                host.kill_all()
        outcome.wrong += host.outlived()


def _wait(host: Host, seconds: float) -> None:
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        host.keep_running()
        time.sleep(0.1)


def mended(host: Host) -> bool:
    """Whether the site is ready again within its time."""
    deadline = time.monotonic() + MENDED_WITHIN_SECONDS
    while not host.is_ready():
        if time.monotonic() > deadline:
            return False
        host.keep_running()
        time.sleep(0.2)
    return True


def _settle(host: Host) -> Iterator[str]:
    """Everything that was asked for is made before the end."""
    if not mended(host):
        yield "the site was not ready at the end"
    deadline = time.monotonic() + DONE_WITHIN_SECONDS
    while time.monotonic() < deadline:
        host.keep_running()
        with suppress(OperationalError):
            if not _unfinished():
                break
        close_old_connections()
        time.sleep(0.3)
    else:
        yield f"{_unfinished()} sheets were not made {DONE_WITHIN_SECONDS:.0f} s after the end"
    failed = Sheet.objects.filter(status=Status.FAILED)
    yield from (f"sheet {sheet.pk} failed: {sheet.error}" for sheet in failed)


def _left_over(host: Host) -> Iterator[str]:
    """Who was left behind has its time to end."""
    deadline = time.monotonic() + OUTLIVED_SECONDS + 1
    while not host.all_ended() and time.monotonic() < deadline:
        time.sleep(0.5)
    yield from host.outlived()


def _unfinished() -> int:
    return Sheet.objects.exclude(status__in=[Status.DONE, Status.FAILED]).count()


def _looked_over(book: Book, world: World, *, aged: bool) -> Iterator[str]:
    close_old_connections()
    yield from (f"audit: {finding}" for finding in audit())
    yield from compared(book, world.first_event, aged=aged)
    for quilt in world.quilts:
        blanket = Blanket.objects.get(pk=quilt.pk)
        for wrong in followed(blanket, changes=quilt.changes):
            yield f"blanket {quilt.pk}: {wrong}"


def _lost_mails(host: Host) -> Iterator[str]:
    """What counts as sent must have come to the mail server; what waits is not lost."""
    close_old_connections()
    came = "\n".join(host.mail.got)
    for mail in Mail.objects.exclude(sent_at=None):
        if mail.to not in came:
            yield f"lost: {mail} to {mail.to} counts as sent"
