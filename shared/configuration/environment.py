"""Reading ``MITREWISE_…`` environment variables, strictly."""

import os
import re
from collections.abc import Mapping
from difflib import get_close_matches
from pathlib import Path
from urllib.parse import SplitResult, urlsplit

from django.core.exceptions import ImproperlyConfigured

PREFIX = "MITREWISE_"
# Variables of the tests and the bench, which the site itself does not read.
NOT_OURS = ("MITREWISE_TEST_", "MITREWISE_BENCH_")


class Environment:
    """The variables of one process, by their names without ``MITREWISE_``.

    A variable that is empty counts as not set. Every method raises ``ImproperlyConfigured``,
    with a sentence for whoever runs the site, on a value that it does not understand.
    """

    def __init__(self, variables: Mapping[str, str]) -> None:
        self._given = {
            name: value.strip()
            for name, value in variables.items()
            if name.startswith(PREFIX) and not name.startswith(NOT_OURS)
        }
        self._known: set[str] = set()

    def text(self, name: str, default: str = "") -> str:
        """The value as it stands."""
        self._known.add(PREFIX + name)
        return self._given.get(PREFIX + name, "") or default

    def flag(self, name: str) -> bool:
        """Yes or no; no when it is not set."""
        value = self.text(name, "0")
        if value not in ("0", "1"):
            raise ImproperlyConfigured(f"{PREFIX}{name} must be 1 (yes) or 0 (no), not “{value}”.")
        return value == "1"

    def number(self, name: str, default: int) -> int:
        """A whole number from 1 to 64."""
        value = self.text(name, str(default))
        if not (value.isdecimal() and 1 <= int(value) <= 64):
            raise ImproperlyConfigured(
                f"{PREFIX}{name} must be a whole number from 1 to 64, not “{value}”."
            )
        return int(value)

    def choice(self, name: str, *choices: str) -> str:
        """One of the words; the first when it is not set."""
        value = self.text(name, choices[0])
        if value not in choices:
            raise ImproperlyConfigured(
                f"{PREFIX}{name} must be {' or '.join(choices)}, not “{value}”."
            )
        return value

    def strict_https(self, name: str, default: int) -> tuple[int, bool, bool]:
        """For how many seconds browsers insist on https; for subdomains too; in their own lists."""
        value = self.text(name, str(default))
        seconds, *wishes = value.split()
        if not (seconds.isdecimal() and set(wishes) <= {"subdomains", "preload"}):
            raise ImproperlyConfigured(
                f"{PREFIX}{name} must be a number of seconds, after which “subdomains” and "
                f"“preload” may stand, not “{value}”."
            )
        return int(seconds), "subdomains" in wishes, "preload" in wishes

    def hosts(self, name: str) -> list[str]:
        """Host names between commas, ``.example.org`` for all within; none when it is not set."""
        hosts = [host.strip() for host in self.text(name).split(",") if host.strip()]
        for host in hosts:
            if not re.fullmatch(r"\.?[\w-]+(\.[\w-]+)*|\[[0-9a-f:]+\]", host, re.IGNORECASE):
                raise ImproperlyConfigured(
                    f"{PREFIX}{name} must hold names like blankets.example, without https:// "
                    f"and port, and commas between them; “{host}” is none."
                )
        return hosts

    def folder(self, name: str, default: Path) -> Path:
        """An absolute path of a folder to write to; made when missing, for this user only."""
        path = Path(self.text(name, str(default))).expanduser().resolve()
        try:
            path.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as problem:
            raise self._no_folder(name, path) from problem
        if not os.access(path, os.W_OK | os.X_OK):
            raise self._no_folder(name, path)
        return path

    def _no_folder(self, name: str, path: Path) -> ImproperlyConfigured:
        return ImproperlyConfigured(
            f"{PREFIX}{name} must name a folder that Mitrewise can write to, and {path} is none."
        )

    def url(self, name: str, *schemes: str, example: str) -> SplitResult | None:
        """An address with one of ``schemes``; None when it is not set."""
        value = self.text(name)
        if not value:
            return None
        try:
            parts = urlsplit(value)
            understood = parts.scheme in schemes and (parts.port is None or parts.port > 0)
        except ValueError:
            understood = False
        if not understood:
            raise ImproperlyConfigured(f"{PREFIX}{name} must be an address like {example}.")
        return parts

    @property
    def known(self) -> frozenset[str]:
        """Every name that was asked for so far."""
        return frozenset(self._known)

    def refuse_unknown(self) -> None:
        """To be called last: a name that nothing has asked for is a slip of the pen."""
        for name in sorted(self._given.keys() - self._known):
            near = get_close_matches(name, self._known, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise ImproperlyConfigured(f"{name} is not a setting of Mitrewise.{hint}")
