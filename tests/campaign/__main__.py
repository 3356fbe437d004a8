"""``python -m tests.campaign``: see ``--help``. It ends by itself, and only what it has started."""

import argparse
import os
import random
import signal
import sys
from collections.abc import Sequence

from tests import mail_server

from .faults import to_be_had
from .host import Host


def main(arguments: Sequence[str]) -> int:
    told = _read(arguments)
    known = to_be_had(postgres=told.postgres)
    chosen = told.faults if told.faults is not None else sorted(known)
    if unknown := sorted(set(chosen) - known.keys()):
        print(f"No such faults here: {', '.join(unknown)}. There are {', '.join(sorted(known))}.")
        return 2
    faults = {name: known[name] for name in chosen}
    clock = any("clock" in name for name in faults)
    seconds = told.seconds or told.minutes * 60
    where = "PostgreSQL and Redis" if told.postgres else "SQLite and files"
    print(f"Seed {told.seed}, {seconds:.0f} s, {told.clients} clients, {where}.", flush=True)
    with mail_server.running(mail_server.MailServer()) as mail:
        host = Host(mail, postgres=told.postgres, clock=clock)
        right = False
        # So that what is begun is cleared away.
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
        try:
            os.environ.update(host.env)
            right = _run(host, told, faults, seconds)
        finally:
            host.end(keep=not right)
            if not right:
                print(f"Kept to look at: {host.data}")
    return 0 if right else 1


def _run(host: Host, told: argparse.Namespace, faults: dict, seconds: float) -> bool:  # type: ignore[type-arg]
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command
    from django.db import connections

    from .run import campaign, mended
    from .world import make_world

    settings.ALLOWED_HOSTS.append("testserver")
    call_command("migrate", verbosity=0)
    world = make_world()
    connections.close_all()
    host.start()
    if not mended(host):
        print("The site did not become ready.")
        return False
    outcome = campaign(
        host, world, seed=told.seed, seconds=seconds, clients=told.clients, faults=faults,
        gap=told.gap,
    )  # fmt: skip
    connections.close_all()
    answers = ", ".join(f"{status}: {times}" for status, times in sorted(outcome.answers.items()))
    print(f"{outcome.acts} calls, {outcome.acts / outcome.seconds:.0f} a second ({answers})")
    looked = f"{outcome.looks} looks and {outcome.audits} audits meanwhile"
    print(f"{outcome.facts} writes answered, {looked}")
    for name, times in sorted(outcome.faults.items()):
        print(f"  {name}: {times} times, ready again after {outcome.longest[name]:.1f} s at most")
    for wrong in outcome.wrong[:50]:
        print(f"WRONG {wrong}")
    if outcome.wrong:
        print(f"{len(outcome.wrong)} things are wrong; --seed {told.seed} repeats the choices.")
    else:
        print("Nothing was lost, doubled or begun wrongly.")
    return not outcome.wrong


def _read(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser("./dev campaign", description=__doc__)
    parser.add_argument("--minutes", type=float, default=10, help="how long (10)")
    parser.add_argument("--seconds", type=float, help="the same, for a short one")
    seed = random.randrange(10**6)
    parser.add_argument("--seed", type=int, default=seed, help="repeats the choices")
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument("--postgres", action="store_true", help="on PostgreSQL and Redis")
    kind.add_argument("--sqlite", action="store_true", help="on SQLite and files, as is usual")
    parser.add_argument("--clients", type=int, default=8, help="at the same time (8)")
    parser.add_argument("--gap", type=float, default=4, help="seconds between faults (4)")
    parser.add_argument("--faults", nargs="*", metavar="NAME", help="only these; none: peace")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
