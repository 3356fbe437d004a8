"""How much of what is dear one person, one circle, one receiver may ask for (``settings.LIMITS``).

The only place that counts. It counts in the cache, in windows of time, and steps aside where the
cache is gone: what is limited goes on without limits then.
"""

import hashlib
import math
import re
from contextlib import suppress
from datetime import datetime

from django.conf import settings
from django.core.cache import cache
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from redis import RedisError

SECONDS = {"min": 60, "hour": 3600, "day": 86_400}


class LimitReached(Exception):
    """Too much was asked for: 429. ``detail`` says it to a person, ``wait`` is in seconds."""

    def __init__(self, wait: int) -> None:
        self.wait = wait
        minutes = math.ceil(wait / 60)
        again = ngettext(
            "That was a lot in a short time. Please go on in a minute.",
            "That was a lot in a short time. Please go on in %(count)d minutes.",
            minutes,
        )
        if minutes > 90:
            again = _("That was a lot for one day. Please go on in %(count)d hours.")
            minutes = math.ceil(minutes / 60)
        self.detail = again % {"count": minutes}
        super().__init__(self.detail)


def spend(what: str, *, now: datetime, times: int = 1, **of: int | str) -> None:
    """Count so many more ``what`` of each that ``of`` names: ``person=3, circle=7``.

    ``what`` and the names are those of ``settings.LIMITS``. The first that has had enough stands
    in the way, and nothing is counted for those after it, so that one who asks in vain does not
    use up what others have; many at once that are too many leave the rest for fewer. Raises
    LimitReached.
    """
    for name, rate in settings.LIMITS[what].items():
        if name not in of:
            continue
        most, seconds = parsed(rate)
        window, gone = divmod(int(now.timestamp()), seconds)
        key = _key(what, name, of[name], window)
        if _counted(key, seconds, times) > most:
            if times > 1:
                _counted(key, seconds, -times)
            raise LimitReached(seconds - gone)


def forget(what: str, *, now: datetime, **of: int | str) -> None:
    """What was counted of each so far in the window of ``now`` counts no more."""
    for name, rate in settings.LIMITS[what].items():
        if name in of:
            _most, seconds = parsed(rate)
            with suppress(RedisError, OSError):
                cache.delete(_key(what, name, of[name], int(now.timestamp()) // seconds))


def _key(what: str, name: str, whose: int | str, window: int) -> str:
    digest = hashlib.sha256(str(whose).encode()).hexdigest()[:32]
    return f"limit:{what}:{name}:{digest}:{window}"


def parsed(rate: str) -> tuple[int, int]:
    """How many in how many seconds; ``30/hour``."""
    read = re.fullmatch(r"(\d+)/(min|hour|day)", rate)
    assert read, f"{rate} is no rate like 30/hour"
    return int(read[1]), SECONDS[read[2]]


def _counted(key: str, seconds: int, times: int) -> int:
    """How often this has been asked now; 0 where nobody can tell."""
    try:
        cache.add(key, 0, seconds)
        return cache.incr(key, times)
    except (RedisError, OSError, ValueError):  # ValueError: it was forgotten in between
        return 0
