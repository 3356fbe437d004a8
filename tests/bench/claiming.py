"""A claim over HTTP against the barest conditional UPDATE over HTTP, 32 clients at once."""

import os
from collections.abc import Iterator
from statistics import median

from . import load
from .figures import Figure, a_second
from .seed import CLIENTS
from .site import site


def figures() -> Iterator[Figure]:
    databases = {"SQLite": "", "PostgreSQL": os.environ["MITREWISE_BENCH_POSTGRES"]}
    for database, url in databases.items():
        ours: list[float] = []
        floor: list[float] = []
        with site("claims", url) as here:
            for squares, bare in zip(here.seed["rounds"], here.seed["floor"], strict=True):
                claims = [
                    load.post(path, {"Authorization": f"Token {key}"}) for path, key in squares
                ]
                floors = [load.post(f"/floor/claim/{square}/", {}) for square in bare]
                for requests, rates in ((claims, ours), (floors, floor)):
                    done = load.run(here.port, requests, CLIENTS)
                    assert set(done.statuses) == {201}, done.statuses
                    rates.append(done.rate)
        yield Figure(
            f"claim / barest conditional UPDATE, {database}, {CLIENTS} clients",
            a_second(median(ours)), a_second(median(floor)),
            median(ours) / median(floor), 0.7, at_least=True,
        )  # fmt: skip
