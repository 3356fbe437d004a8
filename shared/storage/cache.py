"""A cache in Redis that steps aside when Redis does not answer."""

from typing import Any

from django.core.cache.backends.base import BaseCache
from django.core.cache.backends.locmem import LocMemCache
from django.core.cache.backends.redis import RedisCache
from redis.backoff import NoBackoff
from redis.retry import Retry

from shared.basics.circuit import Circuit

ANSWERS_WITHIN_SECONDS = 0.5


class SteppingAside(BaseCache):
    """Redis, or else the memory of this process: throttles and limits go on counting there.

    Pages wait ``ANSWERS_WITHIN_SECONDS`` for it, and once it was silent not at all for some
    seconds. Nothing that the memory holds is older than the time for which it was to be kept.
    """

    def __init__(self, server: str, params: dict[str, Any]) -> None:
        super().__init__(params)
        options = {
            "socket_timeout": ANSWERS_WITHIN_SECONDS,
            "socket_connect_timeout": ANSWERS_WITHIN_SECONDS,
            "retry": Retry(NoBackoff(), 0),
        }
        self._redis = RedisCache(server, {**params, "OPTIONS": options})
        self._memory = LocMemCache(server, params)
        self._circuit = Circuit("cache in Redis")

    def _do(self, name: str, *given: Any, **named: Any) -> Any:
        return self._circuit.call(
            lambda: getattr(self._redis, name)(*given, **named),
            otherwise=lambda: getattr(self._memory, name)(*given, **named),
        )

    def add(self, *given: Any, **named: Any) -> bool:
        return bool(self._do("add", *given, **named))

    def get(self, *given: Any, **named: Any) -> Any:
        return self._do("get", *given, **named)

    def set(self, *given: Any, **named: Any) -> None:
        self._do("set", *given, **named)

    def touch(self, *given: Any, **named: Any) -> bool:
        return bool(self._do("touch", *given, **named))

    def delete(self, *given: Any, **named: Any) -> bool:
        return bool(self._do("delete", *given, **named))

    def incr(self, *given: Any, **named: Any) -> int:
        return int(self._do("incr", *given, **named))

    def has_key(self, *given: Any, **named: Any) -> bool:
        return bool(self._do("has_key", *given, **named))

    def get_many(self, *given: Any, **named: Any) -> dict[str, Any]:
        return dict(self._do("get_many", *given, **named))

    def set_many(self, *given: Any, **named: Any) -> list[str]:
        return list(self._do("set_many", *given, **named))

    def delete_many(self, *given: Any, **named: Any) -> None:
        self._do("delete_many", *given, **named)

    def clear(self) -> None:
        self._memory.clear()
        self._do("clear")

    def close(self, **named: Any) -> None:
        self._redis.close(**named)
