"""A blanket's page against writing the same bytes from a constant."""

from collections.abc import Iterator
from statistics import median

from . import load
from .figures import Figure, milliseconds
from .site import site

REQUESTS = 60
GOALS = {"40": 3.0}


def figures() -> Iterator[Figure]:
    with site("pages") as here:
        cookie = {"Cookie": f"sessionid={here.seed['session']}", "Accept-Encoding": "gzip"}
        for side, blanket in here.seed["blankets"].items():
            ours = load.get(f"/blankets/{blanket}/", cookie)
            floor = load.get(f"/floor/page/{blanket}/{here.seed['user']}/", cookie)
            times = {ours: [], floor: []}  # type: dict[bytes, list[float]]
            for _ in range(5):
                for request, seconds in times.items():
                    done = load.run(here.port, [request] * REQUESTS, clients=1)
                    assert set(done.statuses) == {200}, done.statuses
                    seconds.append(1 / done.rate)
            mine, bare = median(times[ours]), median(times[floor])
            yield Figure(
                f"blanket page {side} × {side} / the same bytes",
                milliseconds(mine), milliseconds(bare), mine / bare,
                GOALS.get(side), at_least=False,
            )  # fmt: skip
